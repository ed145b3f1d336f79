"""Moving a session, calling it off, and taking that back: each in one transaction."""

from __future__ import annotations

from datetime import datetime

from django.db import transaction

from jobs.bookings.changes import ChangeKind, SessionChange
from jobs.bookings.holding import hold
from jobs.bookings.models import Booking
from jobs.bookings.operations import (
    BookingTimeError,
    StaleBookingError,
    cancel_booking,
    locked_booking,
    refuse_settled,
)
from jobs.bookings.states import HOLDING, BookingMoveError, BookingStatus
from studio.effects import follow_end, follow_move
from studio.history.operations import record
from studio.people.models import Person
from studio.profile.models import StudioProfile
from studio.timespan import TimeSpan


@transaction.atomic
def move_booking(
    *,
    booking_id: int,
    span: TimeSpan,
    because: str,
    by: Person,
    at: datetime,
    version: int | None = None,
) -> Booking:
    """Move a session to other times, with all that it holds and what hangs on it.

    Raises BookingMoveError, BookingTimeError, ClashError, StaleBookingError.
    """
    booking = locked_booking(booking_id)
    refuse_settled(booking)
    if version is not None and version != booking.version:
        raise StaleBookingError(
            "Somebody else changed this session meanwhile. Look at it again."
        )
    if span == booking.span:
        raise BookingTimeError("These are the times that it has already.")
    shift = span.start - booking.starts_at
    note_change(booking, ChangeKind.MOVED, because, by=by, at=at)
    booking.starts_at, booking.ends_at = span.start, span.end
    booking.version += 1
    booking.save(update_fields=["starts_at", "ends_at", "version"])
    _take_along(booking, at=at)
    follow_move(booking, shift, by=by, at=at)
    data = {"minutes": round(shift.total_seconds() / 60)}
    record(booking, "moved", by=by, at=at, data=data)
    return booking


@transaction.atomic
def call_off(*, booking_id: int, because: str, by: Person, at: datetime) -> Booking:
    """Call a session off, its spare date too, and keep why. Raises BookingMoveError."""
    booking = locked_booking(booking_id)
    spare = Booking.objects.filter(spare_of=booking, status__in=HOLDING).first()
    if spare:
        cancel_booking(booking_id=spare.pk, by=by, at=at)
    note_change(booking, ChangeKind.CANCELLED, because, by=by, at=at)
    return cancel_booking(booking_id=booking.pk, by=by, at=at)


@transaction.atomic
def take_up_again(*, booking_id: int, by: Person, at: datetime) -> Booking:
    """Take back that a session was called off, on the same day, if all is still free.

    Raises BookingMoveError and ClashError.
    """
    booking = locked_booking(booking_id)
    last = may_be_taken_up(booking, at=at)
    if last is None:
        raise BookingMoveError(
            "A session is taken up again on the day it was called off, no later."
        )
    note_change(booking, ChangeKind.TAKEN_UP, "", by=by, at=at)
    booking.status = _standing(last, at)
    booking.held_until = last.was_held_until if booking.is_holding else None
    booking.save(update_fields=["status", "held_until"])
    if booking.is_holding:
        hold(booking)
    follow_end(booking, stands=True, by=by, at=at)
    record(booking, "taken up again", by=by, at=at)
    return booking


def may_be_taken_up(booking: Booking, *, at: datetime) -> SessionChange | None:
    """Return how a session was called off today, None if it was not, or is gone by."""
    if booking.status != BookingStatus.CANCELLED or not booking.job.is_open:
        return None
    last = booking.changes.first()
    if last is None or last.kind != ChangeKind.CANCELLED or booking.starts_at <= at:
        return None
    zone = StudioProfile.load().zone
    same_day = last.at.astimezone(zone).date() == at.astimezone(zone).date()
    return last if same_day else None


def note_change(
    booking: Booking, kind: ChangeKind, because: str, *, by: Person, at: datetime
) -> SessionChange:
    """Write down how a session was before it is changed."""
    return SessionChange.objects.create(
        booking=booking,
        kind=kind,
        at=at,
        by=by,
        because=because,
        was_starts_at=booking.starts_at,
        was_ends_at=booking.ends_at,
        was_status=booking.status,
        was_held_until=booking.held_until,
    )


def _standing(last: SessionChange, at: datetime) -> BookingStatus:
    """Return how firm it was; a hold that would have run out by now holds nothing."""
    if last.was_held_until and last.was_held_until <= at:
        return BookingStatus.PROPOSED
    return BookingStatus(last.was_status)


def _take_along(booking: Booking, *, at: datetime) -> None:
    """Give what a booking wants its new times, and hold it there if it was held."""
    booking.reservations.update(
        holds=False, starts_at=booking.on_site_at, ends_at=booking.free_at
    )
    if booking.is_holding:
        hold(booking, is_over=booking.ends_at <= at)
