"""Debts that are given up: what is written off, when and why."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime

from django.db import transaction

from invoicing.invoices.models import Invoice
from invoicing.payments.models import Allocation, Method, Payment
from invoicing.payments.operations import (
    PaymentDayError,
    PaymentError,
    Received,
    close_if_paid,
    settleable,
    write_payment,
)
from jobs.jobs.models import Job
from studio.history.operations import record
from studio.people.models import Person


@dataclass(frozen=True, slots=True, kw_only=True)
class Loss:
    """How much of an invoice is given up. `form_key` makes a form sent twice one."""

    amount_minor: int
    lost_on: date
    because: str
    form_key: str


@transaction.atomic
def write_off_debt(*, invoice_id: int, loss: Loss, by: Person, at: datetime) -> Payment:
    """Write a debt off, whole or in part; no money came, and the tax stays as it was.

    It stands among what settles the invoice, and is taken back as a payment is, should
    the client pay after all. A delivered job with nothing left to pay is closed with
    the reason. Raises PaymentError, BooksDayError.
    """
    if before := Payment.objects.filter(form_key=loss.form_key).first():
        return before
    invoice = Invoice.objects.invoices().get(pk=invoice_id)
    if not loss.because.strip():
        raise PaymentError("Say why it is written off.")
    if loss.lost_on < invoice.issued_on:
        raise PaymentDayError(f"{invoice.number} was issued after that day.")
    (held,) = settleable(invoice.currency, {invoice.pk: loss.amount_minor})
    gone = Received(
        amount_minor=loss.amount_minor,
        currency=invoice.currency,
        received_on=loss.lost_on,
        method=Method.LOSS,
        reference=loss.because.strip(),
        form_key=loss.form_key,
    )
    payment = write_payment(gone, held.client, by=by, at=at)
    Allocation.objects.create(
        payment=payment, invoice=held, amount_minor=loss.amount_minor
    )
    record(held, "written off", by=by, at=at, data={"amount_minor": loss.amount_minor})
    if close_if_paid(job_id=held.job_id, by=by, at=at):
        words = f"{held.number} written off: {loss.because.strip()}"
        Job.objects.filter(pk=held.job_id).update(closed_because=words[:200])
    return payment
