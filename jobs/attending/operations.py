"""Everything that can be done to the answers of a session, and to its private page."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import Final

from django.db import transaction

from jobs.attending.answers import (
    Draft,
    Meanwhile,
    Snapshot,
    Values,
    changed_meanwhile,
)
from jobs.attending.models import Need, SessionAnswers
from jobs.attending.queries import NEED_FIELDS, live_page, standing
from jobs.bookings.models import Attendee, Booking, Part
from jobs.bookings.states import SETTLED
from studio.errors import DomainError
from studio.history.models import ActorKind
from studio.history.operations import record
from studio.links.models import LinkPurpose, PrivateLink
from studio.links.operations import LASTS, make_link, revoke_links
from studio.mail.operations import Letter, write_message
from studio.people.models import Person
from studio.profile.models import StudioProfile

STAYS_OPEN: Final = timedelta(days=1)
"""How long after a session its private page still asks, and shows what was told."""


class AnswersError(DomainError):
    """Something cannot be done with a session's answers; the reason is fit to show."""


class MeanwhileError(DomainError):
    """Somebody else changed the answers meanwhile; nothing was kept or lost."""

    def __init__(self, changes: tuple[Meanwhile, ...], stands: Snapshot) -> None:
        super().__init__(
            "Somebody else changed this meanwhile. Each changed answer says so below; "
            "look at them and save again."
        )
        self.changes = changes
        self.stands = stands


def is_closed(booking: Booking, *, at: datetime) -> bool:
    """Say whether a session is over for its client: nothing is asked or shown then."""
    return booking.status in SETTLED or at > booking.ends_at + STAYS_OPEN


@transaction.atomic
def keep_answers(
    *, booking_id: int, base: Snapshot, draft: Draft, by: Person | None, at: datetime
) -> Booking:
    """Keep what was told of who is coming; `by` is None for the client.

    Raises MeanwhileError where a field stands otherwise than in `base`, AnswersError
    for a client whose session is over. The journal is told that, never what.
    """
    booking = _locked(booking_id)
    if by is None and is_closed(booking, at=at):
        raise AnswersError("This session is over or called off; nothing is asked now.")
    stands = standing(booking)
    if changes := changed_meanwhile(base, stands, draft):
        raise MeanwhileError(changes, stands)
    SessionAnswers.objects.update_or_create(
        booking=booking, defaults=dict(draft.session)
    )
    rows = booking.attendees.in_bulk()
    for pk, values in draft.people.items():
        if pk not in draft.removed:
            _keep(rows[pk], values)
    _remove(booking, draft.removed & frozenset(stands.people))
    for values in draft.new:
        _keep(Attendee(booking=booking, part=Part.SITTER), values)
    kind = None if by else ActorKind.CLIENT
    record(booking, "answers kept", by=by, at=at, kind=kind)
    return booking


@transaction.atomic
def erase_answers(*, booking_id: int, by: Person, at: datetime) -> Booking:
    """Erase all that was told of a session; who comes stays listed by name."""
    booking = _locked(booking_id)
    Need.objects.filter(attendee__booking=booking).delete()
    SessionAnswers.objects.filter(booking=booking).delete()
    record(booking, "answers erased", by=by, at=at)
    return booking


@transaction.atomic
def open_page(*, booking_id: int, by: Person, at: datetime) -> PrivateLink:
    """Return a session's private page; a new one where none can be opened."""
    booking = _locked(booking_id)
    if is_closed(booking, at=at):
        raise AnswersError("The session is over or called off.")
    if link := live_page(booking, at=at):
        return link
    lasts = max(booking.ends_at + STAYS_OPEN - at, LASTS)
    link = make_link(
        purpose=LinkPurpose.SESSION, object_id=booking.pk, at=at, lasts=lasts
    )
    record(booking, "private page opened", by=by, at=at)
    return link


@transaction.atomic
def ask_client(*, booking_id: int, by: Person, at: datetime) -> PrivateLink:
    """Send the client their session's private page. Raises AnswersError."""
    booking = _locked(booking_id)
    client = booking.job.client
    if not client.email:
        raise AnswersError("There is no e-mail address. Add one to the client.")
    studio = StudioProfile.load()
    if not studio.public_address:
        raise AnswersError(
            "The studio has no public address, so no private page can be opened."
        )
    link = open_page(booking_id=booking.pk, by=by, at=at)
    body = (
        f"Hello {client.addressee},\n\nwho is coming to your session on "
        f"{booking.local_start:%A} {booking.local_start.day} "
        f"{booking.local_start:%B}? Please tell us on this page: names, the ages of "
        "children, and anything that we should plan for. It takes two minutes, and "
        f"you can change it until the day:\n\n{{link}}\n\n{by}\n"
        f"{studio.trading_name}\n"
    )
    letter = Letter(
        address=client.email,
        recipient_name=client.addressee,
        subject="Who is coming to your session?",
        body=body,
    )
    write_message(
        occasion=f"who-is-coming:{booking.pk}:{at:%Y%m%d%H%M}",
        about=booking,
        letter=letter,
        at=at,
        link=link,
    )
    record(booking, "asked who is coming", by=by, at=at)
    return link


@transaction.atomic
def close_page(*, booking_id: int, by: Person, at: datetime) -> Booking:
    """Close a session's private page: its links open nothing any more."""
    booking = _locked(booking_id)
    if revoke_links(purpose=LinkPurpose.SESSION, object_id=booking.pk, at=at):
        record(booking, "private page closed", by=by, at=at)
    return booking


def _keep(attendee: Attendee, values: Values) -> None:
    attendee.name = values["name"]
    attendee.save()
    told = {name: values[name] for name in NEED_FIELDS}
    Need.objects.update_or_create(attendee=attendee, defaults=told)


def _remove(booking: Booking, rows: frozenset[int]) -> None:
    """Take sitters off the list; the client stays, since papers go to them."""
    booking.attendees.filter(pk__in=rows, part=Part.SITTER).delete()


def _locked(booking_id: int) -> Booking:
    bookings = Booking.objects.select_related("place", "job__client")
    return bookings.select_for_update(of=("self",)).get(pk=booking_id)
