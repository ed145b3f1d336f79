"""A session sent by mail as an invitation that mail programs understand (RFC 6047)."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import datetime
from email.utils import parseaddr

from django.conf import settings
from django.db import transaction

from jobs.bookings.models import Booking, Part
from jobs.bookings.wanted import guests_of, people_of
from jobs.bookings.words import clocks_of
from jobs.calendars.events import (
    EventRow,
    Firmness,
    Guest,
    Method,
    Told,
    write_calendar,
)
from jobs.calendars.models import Invitation
from jobs.calendars.telling import told_to_guest
from studio.errors import DomainError
from studio.files.operations import store_file
from studio.history.operations import record
from studio.mail.operations import Letter, write_message
from studio.people.models import Person
from studio.profile.models import StudioProfile
from studio.wording import day_short


class NothingToInviteError(DomainError):
    """A session is not held, so there is nothing to invite anybody to."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Round:
    """One round of invitations: who gets the session, from whom it is taken back."""

    guests: tuple[Guest, ...] = ()
    withdrawn: tuple[str, ...] = ()
    words: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class GuestRow:
    """Somebody who may be invited, and what they have in hand."""

    guest: Guest
    has: str

    @property
    def words(self) -> str:
        """What they have in hand, in words."""
        return {
            "": "Not invited",
            "current": "Has it as it stands",
            "older": "Has it as it was before",
            "withdrawn": "Was taken back",
        }[self.has]


@transaction.atomic
def send_round(
    *, booking_id: int, sent: Round, by: Person, at: datetime
) -> list[Invitation]:
    """Send a session to its guests, and take it back from others.

    Who has it as it stands gets nothing. Raises NothingToInviteError.
    """
    found = Booking.objects.select_related("job__client", "place")
    booking = found.select_for_update(of=("self",)).get(pk=booking_id)
    told = told_to_guest(booking, StudioProfile.load())
    if sent.guests and told.firmness == Firmness.CANCELLED:
        raise NothingToInviteError("Pencil the session in or confirm it first.")
    standing = {row.address.lower(): row for row in booking.invitations.all()}
    wrote = [
        _invite(booking, guest, standing.get(guest.address.lower()), told, at)
        for guest in sent.guests
        if not _is_current(standing.get(guest.address.lower()), told)
    ]
    gone = replace(told, firmness=Firmness.CANCELLED)
    wrote += [
        _tell(row, gone, at)
        for address in sent.withdrawn
        if (row := standing.get(address.lower())) and row.withdrawn_at is None
    ]
    for invitation in wrote:
        _post(booking, invitation, sent.words, by, at)
    if wrote:
        record(booking, "invited", by=by, at=at, data={"messages": len(wrote)})
    return wrote


def guest_rows(booking: Booking) -> list[GuestRow]:
    """Return who may be invited: client, who comes, crew, and who was invited before.

    Three queries at most.
    """
    told = told_to_guest(booking, StudioProfile.load())
    standing = {row.address.lower(): row for row in booking.invitations.all()}
    guests = {guest.address.lower(): guest for guest in reversed(_named(booking))}
    ordered = dict(reversed(guests.items()))
    for key, row in standing.items():
        ordered.setdefault(key, Guest(name=row.name, address=row.address))
    return [
        GuestRow(guest=guest, has=_has(standing.get(key), told))
        for key, guest in ordered.items()
    ]


def is_stale(invitation: Invitation, studio: StudioProfile) -> bool:
    """Say whether somebody has a session in hand that has changed since."""
    if invitation.withdrawn_at:
        return False
    return not _is_current(invitation, told_to_guest(invitation.booking, studio))


def _named(booking: Booking) -> list[Guest]:
    client = booking.job.client
    guests = [Guest(name=client.addressee, address=client.email)]
    guests += [
        Guest(name=one.name, address=one.email)
        for one in guests_of(booking)
        if one.part != Part.PLACE
    ]
    guests += [
        Guest(name=str(person), address=person.email) for person in people_of(booking)
    ]
    return [guest for guest in guests if guest.address]


def _has(invitation: Invitation | None, told: Told) -> str:
    if invitation is None:
        return ""
    if invitation.withdrawn_at:
        return "withdrawn"
    return "current" if _is_current(invitation, told) else "older"


def _is_current(invitation: Invitation | None, told: Told) -> bool:
    return (
        invitation is not None
        and invitation.withdrawn_at is None
        and invitation.told == told.as_json()
    )


def _invite(
    booking: Booking, guest: Guest, row: Invitation | None, told: Told, at: datetime
) -> Invitation:
    row = row or Invitation(booking=booking, address=guest.address)
    row.name = guest.name[:160]
    return _tell(row, told, at)


def _tell(row: Invitation, told: Told, at: datetime) -> Invitation:
    if row.pk:
        row.sequence += 1
    row.told, row.sent_at = told.as_json(), at
    row.withdrawn_at = at if told.firmness == Firmness.CANCELLED else None
    row.save()
    return row


def _post(
    booking: Booking, row: Invitation, words: str, by: Person, at: datetime
) -> None:
    studio, told = StudioProfile.load(), Told.from_json(row.told)
    is_gone = told.firmness == Firmness.CANCELLED
    method = Method.CANCEL if is_gone else Method.REQUEST
    event = EventRow(
        uid=str(booking.uid),
        told=told,
        sequence=row.sequence,
        changed_at=at,
        organizer=Guest(name=studio.trading_name, address=_organizer(studio)),
        attendee=Guest(name=row.name, address=row.address),
    )
    file = store_file(
        name="session.ics",
        content_type=f"text/calendar; method={method}; charset=UTF-8",
        content=write_calendar([event], method=method),
        at=at,
    )
    start = booking.local_start
    day = f"{day_short(start)}, {clocks_of(booking)}"
    subject = f"{told.title}: {day}"
    if is_gone:
        subject = f"Called off: {subject}"
    elif row.sequence:
        subject = f"Changed: {subject}"
    write_message(
        occasion=f"invitation:{row.pk}:{row.sequence}",
        about=booking,
        letter=Letter(
            address=row.address,
            recipient_name=row.name,
            subject=subject,
            body=_body(row, told, day, words, by, studio),
        ),
        files=[file],
        at=at,
    )


def _body(
    row: Invitation,
    told: Told,
    day: str,
    words: str,
    by: Person,
    studio: StudioProfile,
) -> str:
    facts = [told.title, day, told.place]
    if told.firmness == Firmness.CANCELLED:
        facts.insert(0, "This session is called off:")
    elif row.sequence:
        facts.insert(0, "This session has changed. It is now:")
    parts = [
        f"Hello {row.name},",
        words.strip(),
        "\n".join(filter(None, facts)),
        f"{by}\n{studio.trading_name}".strip(),
    ]
    return "\n\n".join(filter(None, parts)) + "\n"


def _organizer(studio: StudioProfile) -> str:
    """Return the address that answers go to: the one that answers to mail go to."""
    return studio.email or parseaddr(settings.DEFAULT_FROM_EMAIL)[1]


def stale_invitations(at: datetime) -> Iterable[Invitation]:
    """Return who has a coming session in hand that has changed since. Two queries."""
    coming = Invitation.objects.filter(
        withdrawn_at__isnull=True, booking__ends_at__gt=at
    )
    studio = StudioProfile.load()
    rows = coming.select_related("booking__job__client", "booking__place")
    return [row for row in rows.order_by("booking", "pk") if is_stale(row, studio)]
