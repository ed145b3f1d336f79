"""The page of one payment: what it settles, what is on account, what goes back."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from invoicing.invoices.models import Invoice
from invoicing.payments.forms import (
    OnAccountForm,
    PayBackForm,
    SharesForm,
    TakeOffForm,
)
from invoicing.payments.models import Payment
from invoicing.payments.moving import (
    pay_back_credited,
    pay_back_on_account,
    set_on_invoices,
    take_off_invoice,
)
from invoicing.payments.operations import balance_of, record_payment
from invoicing.payments.queries import open_invoices, proposal, seen_payment
from invoicing.payments.views import received_of, tell_of, today
from invoicing.periods.forms import tell_refusal
from studio.errors import DomainError
from studio.http import staff
from studio.money import Money
from studio.people.access import may
from studio.profile.models import StudioProfile


@may("payment.record")
@require_http_methods(["GET", "POST"])
def payment_on_account(request: HttpRequest) -> HttpResponse:
    """Record a client's money without an invoice; its page proposes what it is for."""
    form = OnAccountForm(
        request.POST if request.method == "POST" else None,
        currency=StudioProfile.load().currency,
        initial={"received_on": today(), "client": request.GET.get("client")},
    )
    if form.is_valid():
        try:
            receipt = record_payment(
                money=received_of(form),
                shares={},
                client=form.cleaned_data["client"],
                by=staff(request).user,
                at=timezone.now(),
            )
        except DomainError as refusal:
            tell_refusal(form, refusal, day="received_on")
        else:
            tell_of(request, receipt)
            return redirect(receipt.payment)
    return render(request, "invoicing/payments/on_account.html", {"form": form})


@may("payment.record")
@require_http_methods(["GET", "POST"])
def payment(request: HttpRequest, payment_id: int) -> HttpResponse:
    """Show a payment, and let what is on account be set on invoices."""
    get_object_or_404(Payment, pk=payment_id)
    seen = seen_payment(payment_id)
    invoices = open_invoices(seen.payment) if seen.loose.minor > 0 else []
    shares = proposal(seen, invoices)
    initial: dict[str, Any] = {f"share_{pk}": sum_ for pk, sum_ in shares.items()}
    form = SharesForm(
        request.POST if request.method == "POST" else None,
        currency=seen.payment.currency,
        invoices=invoices,
        initial={"on": today(), **initial},
    )
    if form.is_valid():
        try:
            receipt = set_on_invoices(
                payment_id=payment_id,
                shares=form.shares(),
                on=form.cleaned_data["on"],
                by=staff(request).user,
                at=timezone.now(),
            )
        except DomainError as refusal:
            tell_refusal(form, refusal, day="on")
        else:
            tell_of(request, receipt, "The money is set on what you chose.")
            return redirect(seen.payment)
    context = {"seen": seen, "payment": seen.payment, "form": form}
    status = 422 if form.is_bound else 200
    return render(request, "invoicing/payments/seen.html", context, status=status)


@may("payment.record")
@require_http_methods(["GET", "POST"])
def payment_off(request: HttpRequest, payment_id: int, invoice_id: int) -> HttpResponse:
    """Take a payment off an invoice, with a reason; it stands on account again."""
    found = get_object_or_404(Payment.objects.select_related("client"), pk=payment_id)
    invoice = get_object_or_404(Invoice, pk=invoice_id)
    form = TakeOffForm(
        request.POST if request.method == "POST" else None, initial={"on": today()}
    )
    if form.is_valid():
        try:
            take_off_invoice(
                payment_id=payment_id,
                invoice_id=invoice_id,
                **form.cleaned_data,
                by=staff(request).user,
                at=timezone.now(),
            )
        except DomainError as refusal:
            tell_refusal(form, refusal, day="on")
        else:
            messages.success(request, "The money stands on account again.")
            return redirect(found)
    context = {"payment": found, "invoice": invoice, "form": form}
    return render(request, "invoicing/payments/off.html", context)


@may("payment.record")
@require_http_methods(["GET", "POST"])
def payment_back(request: HttpRequest, payment_id: int) -> HttpResponse:
    """Pay money on account back to the client; nothing was invoiced for it."""
    get_object_or_404(Payment, pk=payment_id)
    seen = seen_payment(payment_id)
    form = _back_form(request, seen.loose)
    if form.is_valid():
        try:
            out = pay_back_on_account(
                payment_id=payment_id,
                money=received_of(form),
                by=staff(request).user,
                at=timezone.now(),
            )
        except DomainError as refusal:
            tell_refusal(form, refusal, day="received_on")
        else:
            messages.success(request, "What went back is recorded.")
            return redirect(out)
    context = {"payment": seen.payment, "over": seen.loose, "form": form}
    return render(request, "invoicing/payments/back.html", context)


@may("payment.record")
@require_http_methods(["GET", "POST"])
def invoice_back(request: HttpRequest, invoice_id: int) -> HttpResponse:
    """Pay back what a credit note left too much on an invoice."""
    found = get_object_or_404(
        Invoice.objects.invoices().select_related("client"), pk=invoice_id
    )
    over = Money.from_minor(max(-balance_of(found), 0), found.currency)
    form = _back_form(request, over)
    if form.is_valid():
        try:
            out = pay_back_credited(
                invoice_id=invoice_id,
                money=received_of(form),
                by=staff(request).user,
                at=timezone.now(),
            )
        except DomainError as refusal:
            tell_refusal(form, refusal, day="received_on")
        else:
            messages.success(request, "What went back is recorded.")
            return redirect(out)
    context = {"invoice": found, "over": over, "form": form}
    return render(request, "invoicing/payments/back.html", context)


def _back_form(request: HttpRequest, over: Money) -> PayBackForm:
    return PayBackForm(
        request.POST if request.method == "POST" else None,
        currency=over.currency,
        initial={"amount": over, "received_on": today()},
    )
