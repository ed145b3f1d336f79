"""Pages of a client's account and of a late invoice; the rates for late debts."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import (
    require_http_methods,
    require_POST,
    require_safe,
)

from invoicing.invoices.models import Invoice
from invoicing.owed.charging import charge_of
from invoicing.owed.forms import (
    BandLines,
    PromiseForm,
    RateLines,
    ReminderForm,
    SpanForm,
)
from invoicing.owed.models import LateBand, LateRate
from invoicing.owed.operations import note_promise, send_reminder, set_late_terms
from invoicing.owed.queries import Chase, chase_of, words_of
from invoicing.owed.statements import Statement, statement_of
from jobs.clients.models import Client
from studio.errors import DomainError
from studio.http import staff
from studio.money import decimal_from_minor, exponent
from studio.people.access import may
from studio.profile.models import StudioProfile

A_YEAR = timedelta(days=365)
RATES, BANDS = "rates", "bands"


@may("money.see")
@require_safe
def statement(request: HttpRequest, client_id: int) -> HttpResponse:
    """Show a client's account between two days, a year back by default."""
    client = get_object_or_404(Client, pk=client_id)
    form = SpanForm(request.GET or None)
    found = statement_asked(client, form)
    context = {"client": client, "form": form, "statement": found}
    return render(request, "invoicing/owed/account.html", context)


def statement_asked(client: Client, form: SpanForm) -> Statement:
    """Return the statement that a form asks for, of a year up to today by default."""
    asked = form.cleaned_data if form.is_valid() else {}
    last = asked.get("last") or _today(StudioProfile.load())
    first = asked.get("first")
    if first is None or first > last:
        first = last - A_YEAR
    return statement_of(client, first=first, last=last)


@may("invoice.send")
@require_http_methods(["GET", "POST"])
def remind(request: HttpRequest, invoice_id: int) -> HttpResponse:
    """Show the next reminder, let it be edited, and send it."""
    invoice = get_object_or_404(Invoice.objects.invoices(), pk=invoice_id)
    chase = chase_of(invoice_id, on=_today(StudioProfile.load()))
    if chase is None:
        messages.info(request, f"Nothing is open on {invoice.number}.")
        return redirect(invoice)
    form = ReminderForm(
        request.POST if request.method == "POST" else None, initial=_first(chase)
    )
    if form.is_valid():
        data = form.cleaned_data
        try:
            send_reminder(
                invoice_id=invoice_id,
                step=data["step"],
                letter=(data["subject"], data["words"]),
                by=staff(request).user,
                at=timezone.now(),
            )
        except DomainError as refusal:
            form.add_error(None, str(refusal))
        else:
            messages.success(request, "The reminder is in the outbox.")
            return redirect(invoice)
    return _chased(request, chase, form, PromiseForm())


@may("payment.record")
@require_POST
def promise(request: HttpRequest, invoice_id: int) -> HttpResponse:
    """Note by when a client said they would pay."""
    invoice = get_object_or_404(Invoice.objects.invoices(), pk=invoice_id)
    chase = chase_of(invoice_id, on=_today(StudioProfile.load()))
    form = PromiseForm(request.POST)
    if chase is None:
        return redirect(invoice)
    if form.is_valid():
        note_promise(
            invoice_id=invoice_id,
            **form.cleaned_data,
            by=staff(request).user,
            at=timezone.now(),
        )
        messages.success(request, "The promise is noted.")
        return redirect("invoicing:remind", invoice_id)
    return _chased(request, chase, ReminderForm(initial=_first(chase)), form)


@may("invoice.send")
@require_http_methods(["GET", "POST"])
def late_terms(request: HttpRequest) -> HttpResponse:
    """Show the rates and fixed sums for late business debts, and let them be set."""
    currency = StudioProfile.load().currency
    data = request.POST if request.method == "POST" else None
    rates = RateLines(data, prefix=RATES, initial=_rates())
    bands = BandLines(
        data,
        prefix=BANDS,
        initial=_bands(currency),
        form_kwargs={"currency": currency},
    )
    if data is not None and rates.is_valid() and bands.is_valid():
        set_late_terms(
            rates=list(filter(None, (form.rate() for form in rates.forms))),
            bands=list(filter(None, (form.band() for form in bands.forms))),
            by=staff(request).user,
            at=timezone.now(),
        )
        messages.success(request, "The rates are kept.")
        return redirect("invoicing:owed")
    context = {"rates": rates, "bands": bands}
    status = 200 if data is None else 422
    return render(request, "invoicing/owed/rates.html", context, status=status)


def _chased(
    request: HttpRequest, chase: Chase, form: ReminderForm, promised: PromiseForm
) -> HttpResponse:
    context = {
        "chase": chase,
        "charge": charge_of(chase.invoice),
        "form": form,
        "promise_form": promised,
    }
    status = 422 if form.is_bound or promised.is_bound else 200
    return render(request, "invoicing/owed/remind.html", context, status=status)


def _first(chase: Chase) -> dict[str, Any]:
    subject, words = words_of(chase)
    return {"step": chase.next_step, "subject": subject, "words": words}


def _rates() -> list[dict[str, Any]]:
    return [
        {
            "from_on": row.from_on,
            "percent": decimal_from_minor(row.basis_points, 2),
            "is_fixed": row.is_fixed,
        }
        for row in LateRate.objects.all()
    ]


def _bands(currency: str) -> list[dict[str, Any]]:
    digits = exponent(currency)
    return [
        {
            "least": decimal_from_minor(row.least_minor, digits),
            "fixed": decimal_from_minor(row.sum_minor, digits),
        }
        for row in LateBand.objects.all()
    ]


def _today(profile: StudioProfile) -> date:
    return timezone.now().astimezone(profile.zone).date()
