"""Reminding, and noting what was promised."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime

from django.db import transaction

from invoicing.invoices.models import Invoice
from invoicing.owed.models import LateBand, LateRate, Promise, Reminder
from jobs.jobs.models import Job
from studio.errors import DomainError
from studio.history.operations import record
from studio.mail.operations import Letter, write_message
from studio.people.models import Person
from studio.profile.models import StudioProfile


class ReminderError(DomainError):
    """A reminder cannot go out."""


@transaction.atomic
def send_reminder(
    *, invoice_id: int, step: int, letter: tuple[str, str], by: Person, at: datetime
) -> Reminder:
    """Send a reminder as it was shown and edited; each step once.

    `letter` is subject and words. Raises ReminderError.
    """
    invoice = Invoice.objects.select_related("client").get(pk=invoice_id)
    Job.objects.select_for_update().get(pk=invoice.job_id)
    if not Invoice.objects.unsettled().filter(pk=invoice_id).exists():
        raise ReminderError(f"{invoice.number} is paid meanwhile; nothing was sent.")
    if not invoice.client.email:
        raise ReminderError(f"{invoice.client} has no e-mail address.")
    sent = Reminder.objects.filter(invoice=invoice)
    if before := sent.filter(step=step).first():
        return before
    if step != sent.count() + 1:
        raise ReminderError(
            "Somebody sent a reminder meanwhile. Look at the page again."
        )
    subject, words = letter
    message = write_message(
        occasion=f"reminder:{invoice.pk}:{step}",
        about=invoice,
        letter=Letter(
            address=invoice.client.email,
            recipient_name=invoice.client.addressee,
            subject=subject,
            body=words,
        ),
        at=at,
        files=[document.file for document in invoice.documents.filter(kind="PDF")],
    )
    reminder = Reminder.objects.create(
        invoice=invoice, step=step, message=message, sent_at=at, sent_by=by
    )
    record(invoice, "reminded of", by=by, at=at, data={"step": step})
    return reminder


@transaction.atomic
def note_promise(
    *, invoice_id: int, promised_on: date, note: str, by: Person, at: datetime
) -> Promise:
    """Note by when a client said they would pay."""
    invoice = Invoice.objects.get(pk=invoice_id)
    promise = Promise.objects.create(
        invoice=invoice,
        promised_on=promised_on,
        note=note.strip(),
        noted_at=at,
        noted_by=by,
    )
    record(invoice, "promise noted", by=by, at=at)
    return promise


@transaction.atomic
def set_late_terms(
    *,
    rates: Sequence[tuple[date, int, bool]],
    bands: Sequence[tuple[int, int]],
    by: Person,
    at: datetime,
) -> None:
    """Keep the rates (day, basis points, fixed) and the fixed sums (least, sum)."""
    LateRate.objects.all().delete()
    LateRate.objects.bulk_create(
        LateRate(from_on=from_on, basis_points=points, is_fixed=fixed)
        for from_on, points, fixed in rates
    )
    LateBand.objects.all().delete()
    LateBand.objects.bulk_create(
        LateBand(least_minor=least, sum_minor=sum_) for least, sum_ in bands
    )
    record(StudioProfile.load(), "late terms set", by=by, at=at)
