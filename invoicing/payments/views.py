"""Pages that record money."""

from __future__ import annotations

from datetime import date
from typing import Any, Final

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from invoicing.invoices.finishing import finish_document, write_letter
from invoicing.invoices.models import Invoice, InvoiceDraft
from invoicing.invoices.queries import draft_total, row_of
from invoicing.payments.coins import coin_of, in_coins
from invoicing.payments.forms import PaymentForm, ReversalForm
from invoicing.payments.models import Method, Payment
from invoicing.payments.operations import (
    Receipt,
    Received,
    receive_deposit,
    record_payment,
    reverse_payment,
    share_of,
)
from invoicing.periods.forms import tell_refusal
from studio.errors import DomainError
from studio.http import staff
from studio.money import Money
from studio.people.access import may
from studio.profile.models import StudioProfile
from studio.wording import money_words

RECORDED: Final = "The payment is recorded."


@may("payment.record")
@require_http_methods(["GET", "POST"])
def payment_new(request: HttpRequest, invoice_id: int) -> HttpResponse:
    """Record money for an invoice; what is left stays open."""
    found = get_object_or_404(
        Invoice.objects.invoices().with_balance().select_related("client", "job"),
        pk=invoice_id,
    )
    row = row_of(found, on=today())
    initial = {"amount": row.balance, "received_on": today()}
    form = _form(request, found.currency, initial)
    if form.is_valid():
        money = received_of(form)
        try:
            receipt = record_payment(
                money=money,
                shares={found.pk: share_of(money, row.balance.minor)},
                by=staff(request).user,
                at=timezone.now(),
            )
        except DomainError as refusal:
            tell_refusal(form, refusal, day="received_on")
        else:
            tell_of(request, receipt, _said_of(receipt))
            return redirect(found)
    context = {
        "invoice": found,
        "row": row,
        "form": form,
        "in_cash": _in_cash(row.balance),
    }
    return render(request, "invoicing/payments/payment.html", context)


@may("payment.record")
@require_http_methods(["GET", "POST"])
def deposit_received(request: HttpRequest, draft_id: int) -> HttpResponse:
    """Record a deposit: its invoice is issued and the session confirmed."""
    draft = get_object_or_404(InvoiceDraft.objects.select_related("job"), pk=draft_id)
    if draft.is_issued:
        return redirect("invoicing:payment_new", draft.invoice.pk)
    total = draft_total(draft)
    form = _form(request, total.currency, {"amount": total, "received_on": today()})
    if form.is_valid():
        at = timezone.now()
        try:
            receipt = receive_deposit(
                draft_id=draft.pk,
                money=received_of(form),
                by=staff(request).user,
                at=at,
            )
        except DomainError as refusal:
            tell_refusal(form, refusal, day="received_on")
        else:
            issued = receipt.payment.allocations.get().invoice
            write_letter(issued, at=at)
            finish_document(invoice_id=issued.pk, at=at)
            tell_of(request, receipt, _said_of(receipt))
            return redirect(issued)
    context = {
        "draft": draft,
        "total": total,
        "form": form,
        "in_cash": _in_cash(total),
    }
    return render(request, "invoicing/payments/deposit.html", context)


@may("payment.record")
@require_http_methods(["GET", "POST"])
def payment_reverse(request: HttpRequest, payment_id: int) -> HttpResponse:
    """Take back a payment that was written down wrongly."""
    payment = get_object_or_404(Payment, pk=payment_id)
    form = ReversalForm(request.POST if request.method == "POST" else None)
    if form.is_valid():
        try:
            reverse_payment(
                payment_id=payment.pk,
                because=form.cleaned_data["because"],
                by=staff(request).user,
                at=timezone.now(),
            )
        except DomainError as refusal:
            form.add_error(None, str(refusal))
        else:
            messages.success(request, "The payment counts no more.")
            return redirect(payment)
    context = {"payment": payment, "form": form}
    return render(request, "invoicing/payments/reverse.html", context)


def _form(
    request: HttpRequest, currency: str, initial: dict[str, object]
) -> PaymentForm:
    data = request.POST if request.method == "POST" else None
    return PaymentForm(data, currency=currency, initial=initial)


def _in_cash(owed: Money) -> Money | None:
    """Return what settles a sum in cash, where that is another one."""
    coin = coin_of(owed.currency, StudioProfile.load())
    minor = in_coins(owed.minor, coin)
    return Money.from_minor(minor, owed.currency) if minor != owed.minor else None


def _said_of(receipt: Receipt) -> str:
    """Say that a payment is recorded, and where what it is over by stands."""
    payment: Any = Payment.objects.with_loose().get(pk=receipt.payment.pk)
    if not (over := payment.loose_minor):
        return RECORDED
    sum_ = money_words(Money.from_minor(over, payment.currency))
    return f"{RECORDED} {sum_} is over, and stands on {payment.client}’s account."


def received_of(form: PaymentForm) -> Received:
    """Return what a form says that moved."""
    return Received(
        amount_minor=form.amount_minor,
        currency=form.currency,
        received_on=form.cleaned_data["received_on"],
        method=Method(form.cleaned_data["method"]),
        reference=form.cleaned_data["reference"],
        form_key=form.cleaned_data["form_key"],
    )


def tell_of(request: HttpRequest, receipt: Receipt, said: str = RECORDED) -> None:
    """Tell of a payment, and of what followed from it."""
    messages.success(request, said)
    if receipt.payment.rounding_minor:
        off = money_words(receipt.payment.rounding)
        messages.info(request, f"Cash rounding: {off}. The invoice is settled.")
    for session in receipt.confirmed:
        messages.success(request, f"Confirmed: {session}.")
    for number in receipt.closed:
        messages.success(request, f"{number} is closed, paid.")
    for problem in receipt.problems:
        messages.error(request, f"The session could not be confirmed. {problem}")


def today() -> date:
    """Return the day by the studio's clock."""
    return timezone.now().astimezone(StudioProfile.load().zone).date()
