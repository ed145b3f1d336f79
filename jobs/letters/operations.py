"""Wording letters, sending them, and leaving one out."""

from __future__ import annotations

from datetime import datetime

from django.db import transaction

from jobs.bookings.models import Booking
from jobs.letters.filling import unknown_gaps
from jobs.letters.kinds import FACTS, LetterKind
from jobs.letters.models import LetterWording, SentLetter
from jobs.letters.queries import Due, Wording, is_due, written_for
from studio.errors import DomainError
from studio.history.operations import record
from studio.mail.models import Message
from studio.mail.operations import Letter, write_message
from studio.people.models import Person


class LetterError(DomainError):
    """A letter cannot be kept or sent so."""


@transaction.atomic
def keep_wording(*, wording: Wording, by: Person, at: datetime) -> LetterWording:
    """Keep the owner's words for a letter. Raises LetterError."""
    unknown = unknown_gaps(f"{wording.subject}\n{wording.body}", FACTS)
    if unknown:
        raise LetterError(f"No fact is called {{{{{unknown[0]}}}}}. See the list.")
    row, _ = LetterWording.objects.update_or_create(
        kind=wording.kind,
        defaults={
            "subject": wording.subject,
            "body": wording.body,
            "by_itself": wording.by_itself,
            "is_off": wording.is_off,
        },
    )
    record(row, "worded", by=by, at=at)
    return row


@transaction.atomic
def send_letter(
    *,
    booking_id: int,
    kind: LetterKind,
    words: tuple[str, str],
    by: Person | None,
    at: datetime,
) -> SentLetter:
    """Send a session's letter as it was shown, `words` being subject and body; once.

    Raises LetterError.
    """
    booking = _locked(booking_id)
    if before := booking.letters.filter(kind=kind).first():
        return before
    client = booking.job.client
    if not client.email:
        raise LetterError("There is no e-mail address. Add one to the client.")
    subject, body = words
    message = write_message(
        occasion=f"letter:{booking.pk}:{kind}",
        about=booking,
        letter=Letter(
            address=client.email,
            recipient_name=client.addressee,
            subject=subject,
            body=body,
        ),
        at=at,
    )
    return _keep(booking, kind, message=message, by=by, at=at)


@transaction.atomic
def leave_letter(
    *, booking_id: int, kind: LetterKind, by: Person, at: datetime
) -> SentLetter:
    """Say that a session's letter is not sent; nobody is asked again."""
    booking = _locked(booking_id)
    if before := booking.letters.filter(kind=kind).first():
        return before
    return _keep(booking, kind, message=None, by=by, at=at)


@transaction.atomic
def send_by_itself(*, due: Due, at: datetime) -> SentLetter | None:
    """Send a due letter that the owner lets go by itself; None if it is not so now."""
    booking = _locked(due.booking.pk)
    kind = due.wording.kind
    client = booking.job.client
    if not (due.wording.by_itself and client.email and is_due(booking, kind, at=at)):
        return None
    return send_letter(
        booking_id=booking.pk,
        kind=kind,
        words=written_for(booking, due.wording),
        by=None,
        at=at,
    )


def _keep(
    booking: Booking,
    kind: LetterKind,
    *,
    message: Message | None,
    by: Person | None,
    at: datetime,
) -> SentLetter:
    sent = SentLetter.objects.create(
        booking=booking, kind=kind, message=message, sent_at=at, sent_by=by
    )
    verb = "letter sent" if message else "letter left out"
    record(booking, verb, by=by, at=at, data={"kind": str(kind)})
    return sent


def _locked(booking_id: int) -> Booking:
    bookings = Booking.objects.select_related("place", "job__client")
    return bookings.select_for_update(of=("self",)).get(pk=booking_id)
