"""Which letters a session has, which are due, and how each reads."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta

from jobs.bookings.models import LONGEST, Booking
from jobs.bookings.states import BookingStatus
from jobs.bookings.words import clock_words, clocks_of
from jobs.letters.filling import fill
from jobs.letters.kinds import DUE_AT, HOLDS, USUAL, LetterKind
from jobs.letters.models import LetterWording, SentLetter
from studio.profile.models import StudioProfile
from studio.wording import long_date

FURTHEST = timedelta(days=max(abs(usual.days) for usual in USUAL.values()) + 2)


@dataclass(frozen=True, slots=True, kw_only=True)
class Wording:
    """How one letter is worded now, by the owner or as at first."""

    kind: LetterKind
    subject: str
    body: str
    by_itself: bool = False
    is_off: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class LetterRow:
    """One letter of a session: whether it went, or when it is due."""

    kind: LetterKind
    due_at: datetime
    is_due: bool
    sent: SentLetter | None
    by_itself: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Due:
    """A letter whose time has come."""

    booking: Booking
    wording: Wording


def wordings() -> dict[LetterKind, Wording]:
    """Return how every letter is worded."""
    own = {row.kind: row for row in LetterWording.objects.all()}
    found = {}
    for kind, usual in USUAL.items():
        row = own.get(kind.value)
        found[kind] = Wording(
            kind=kind,
            subject=row.subject if row else usual.subject,
            body=row.body if row else usual.body,
            by_itself=bool(row and row.by_itself),
            is_off=bool(row and row.is_off),
        )
    return found


def letters_of(booking: Booking, *, at: datetime) -> list[LetterRow]:
    """Return the letters of a confirmed session, in their order."""
    sent = {row.kind: row for row in booking.letters.all()}
    return [
        LetterRow(
            kind=kind,
            due_at=due_at(booking, kind),
            is_due=is_due(booking, kind, at=at),
            sent=sent.get(kind.value),
            by_itself=wording.by_itself,
        )
        for kind, wording in wordings().items()
        if not wording.is_off
    ]


def due_letters(*, at: datetime) -> list[Due]:
    """Return the letters whose time has come and that neither went nor were left."""
    near = Booking.objects.filter(
        status__in=[BookingStatus.CONFIRMED, BookingStatus.COMPLETED],
        confirmed_at__isnull=False,
        starts_at__gt=at - FURTHEST - LONGEST,
    )
    near = near.select_related("place", "job__client").prefetch_related("letters")
    on = {kind: one for kind, one in wordings().items() if not one.is_off}
    return [
        Due(booking=booking, wording=wording)
        for booking in near.order_by("starts_at", "pk")
        for kind, wording in on.items()
        if is_due(booking, kind, at=at)
        and kind.value not in {row.kind for row in booking.letters.all()}
    ]


def due_at(booking: Booking, kind: LetterKind) -> datetime:
    """Return when a letter is due, by the clock of the place."""
    if kind is LetterKind.CONFIRMED:
        return booking.confirmed_at or booking.starts_at
    end = booking.local_end if USUAL[kind].days > 0 else booking.local_start
    day = end.date() + timedelta(days=USUAL[kind].days)
    return datetime.combine(day, DUE_AT, tzinfo=booking.place.zone)


def is_due(booking: Booking, kind: LetterKind, *, at: datetime) -> bool:
    """Say whether a letter's time has come and it still makes sense.

    A session that was fixed after a letter's time never needed it; what tells of a
    session to come is of no use once that has begun.
    """
    due = due_at(booking, kind)
    if booking.confirmed_at is None or booking.confirmed_at > due:
        return False
    if booking.status == BookingStatus.CANCELLED:
        return False
    is_before = USUAL[kind].days <= 0
    return due <= at < due + HOLDS and not (is_before and at >= booking.starts_at)


def written_for(booking: Booking, wording: Wording) -> tuple[str, str]:
    """Return subject and words of a letter, filled from the session's own facts."""
    facts = facts_of(booking)
    return fill(wording.subject, facts), fill(wording.body, facts)


def facts_of(booking: Booking) -> dict[str, str]:
    """Return every fact that a letter may name."""
    profile, place, start = StudioProfile.load(), booking.place, booking.local_start
    address = ", ".join(filter(None, map(str.strip, place.address.splitlines())))
    promised = booking.local_end.date() + timedelta(days=profile.pictures_days)
    return {
        "name": booking.job.client.addressee,
        "session": booking.job.title,
        "day": long_date(start.date()),
        "time": clocks_of(booking),
        "start": clock_words(start),
        "place": place.name,
        "address": address or place.name,
        "meeting": place.meeting_point or address or place.name,
        "wear": profile.wear_words.strip(),
        "bring": profile.bring_words.strip(),
        "pictures": long_date(promised),
        "phone": profile.phone,
        "studio": profile.trading_name or profile.owner_name,
    }
