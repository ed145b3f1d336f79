"""Money on account: set on invoices, taken off again, paid back."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime
from typing import Any

from django.db import transaction
from django.db.models import Sum

from invoicing.invoices.models import Invoice
from invoicing.payments.models import NO_MONEY, Allocation, Payment
from invoicing.payments.operations import (
    PaymentDayError,
    PaymentError,
    Receipt,
    Received,
    balance_of,
    follow_up,
    settleable,
    write_payment,
)
from invoicing.periods.operations import hold_books, refuse_closed
from jobs.jobs.models import Job
from studio.history.operations import record
from studio.people.models import Person


@transaction.atomic
def set_on_invoices(
    *, payment_id: int, shares: dict[int, int], on: date, by: Person, at: datetime
) -> Receipt:
    """Set money that stands on account on invoices, from a day on.

    Raises PaymentError, BooksDayError.
    """
    currency = Payment.objects.values_list("currency", flat=True).get(pk=payment_id)
    invoices = settleable(currency, shares)
    payment = _held(payment_id)
    if {one.client.kept_id for one in invoices} != {payment.client.kept_id}:
        raise PaymentError("One payment settles invoices of one client.")
    if sum(shares.values()) > payment.loose_minor:
        raise PaymentError("That is more than what is still on account.")
    _check_day(payment, on)
    Allocation.objects.bulk_create(
        Allocation(
            payment=payment,
            invoice=invoice,
            amount_minor=shares[invoice.pk],
            moved_on=on,
        )
        for invoice in invoices
    )
    record(payment, "set on invoices", by=by, at=at, data={"on": on.isoformat()})
    return follow_up(Receipt(payment), invoices, by=by, at=at)


@transaction.atomic
def take_off_invoice(
    *,
    payment_id: int,
    invoice_id: int,
    on: date,
    because: str,
    by: Person,
    at: datetime,
) -> Allocation:
    """Take a payment off an invoice from a day on: it stands on account again.

    Raises PaymentError, BooksDayError.
    """
    Job.objects.select_for_update().get(invoices=invoice_id)
    payment = _held(payment_id)
    is_whole = payment.method in NO_MONEY or payment.rounding_minor
    if is_whole or payment.amount_minor < 0:
        raise PaymentError("Take the whole payment back instead.")
    shares = Allocation.objects.filter(payment=payment, invoice_id=invoice_id)
    minor = shares.aggregate(total=Sum("amount_minor"))["total"] or 0
    if minor <= 0:
        raise PaymentError("Nothing of this payment is set on that invoice.")
    if not because.strip():
        raise PaymentError("Say why it is taken off.")
    last = max((one.moved_on for one in shares if one.moved_on), default=on)
    if on < last:
        raise PaymentDayError("It was set on the invoice on a later day than that.")
    _check_day(payment, on)
    taken = Allocation.objects.create(
        payment=payment,
        invoice_id=invoice_id,
        amount_minor=-minor,
        moved_on=on,
        because=because.strip(),
    )
    record(payment, "taken off an invoice", by=by, at=at, data={"invoice": invoice_id})
    return taken


@transaction.atomic
def pay_back_on_account(
    *, payment_id: int, money: Received, by: Person, at: datetime
) -> Payment:
    """Pay money on account back; nothing was invoiced for it. Raises PaymentError.

    `money` is what goes out, above zero.
    """
    if before := Payment.objects.filter(form_key=money.form_key).first():
        return before
    payment = _held(payment_id)
    if money.amount_minor > payment.loose_minor:
        raise PaymentError(
            "That is more than what is on account. What is set on an invoice goes back "
            "only after a credit note."
        )
    for taken in payment.allocations.filter(amount_minor__lt=0).select_related(
        "invoice"
    ):
        if balance_of(taken.invoice) > 0:
            raise PaymentError(
                f"This money was taken off {taken.invoice.number}, which is still "
                "open. Take that invoice back by a credit note first, or set the "
                "money on it again."
            )
    _check_day(payment, money.received_on)
    out = replace(money, amount_minor=-money.amount_minor)
    return write_payment(out, payment.client, by=by, at=at, pays_back=payment)


@transaction.atomic
def pay_back_credited(
    *, invoice_id: int, money: Received, by: Person, at: datetime
) -> Payment:
    """Pay back what a credit note left too much on an invoice. Raises PaymentError.

    `money` is what goes out, above zero.
    """
    if before := Payment.objects.filter(form_key=money.form_key).first():
        return before
    invoice: Any = Invoice.objects.select_related("client").get(pk=invoice_id)
    Job.objects.select_for_update().get(pk=invoice.job_id)
    over = -balance_of(invoice)
    if over <= 0:
        raise PaymentError(
            f"Nothing is over on {invoice.number}. Money that was invoiced goes back "
            "only after a credit note."
        )
    if money.amount_minor > over:
        raise PaymentError("That is more than what the credit note left over.")
    out = replace(money, amount_minor=-money.amount_minor)
    payment = write_payment(out, invoice.client, by=by, at=at)
    Allocation.objects.create(
        payment=payment, invoice=invoice, amount_minor=payment.amount_minor
    )
    return payment


def _held(payment_id: int) -> Any:
    hold_books()
    payment = Payment.objects.with_loose().select_related("client").get(pk=payment_id)
    if hasattr(payment, "reversal"):
        raise PaymentError("This payment was taken back.")
    if payment.sells_voucher:
        raise PaymentError("This is the price of a voucher; the voucher is redeemed.")
    return payment


def _check_day(payment: Payment, on: date) -> None:
    if on < payment.received_on:
        raise PaymentDayError("That is before the money came in.")
    refuse_closed(on, what="money moved between invoices")
