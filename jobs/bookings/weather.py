"""The weather call: a spare date in pencil, and by when one of the two is chosen."""

from __future__ import annotations

from datetime import datetime

from django.db import transaction

from jobs.bookings.models import Booking
from jobs.bookings.moving import move_booking
from jobs.bookings.operations import (
    BookingTimeError,
    BookingWish,
    cancel_booking,
    confirm_booking,
    locked_booking,
    pencil_booking,
    propose_booking,
    refuse_settled,
)
from jobs.bookings.states import HOLDING
from studio.errors import DomainError
from studio.history.operations import record
from studio.people.models import Person
from studio.timespan import TimeSpan

WEATHER: str = "Weather"


class NoSpareError(DomainError):
    """A session has no spare date, or has one already."""


@transaction.atomic
def keep_spare(
    *, booking_id: int, span: TimeSpan, decide_by: datetime, by: Person, at: datetime
) -> Booking:
    """Pencil a second date in for a session, with the same people, place and kit.

    Raises BookingMoveError, BookingTimeError, ClashError, NoSpareError.
    """
    booking = locked_booking(booking_id)
    refuse_settled(booking)
    if spare_of(booking):
        raise NoSpareError("This session has a spare date already.")
    if span.overlaps(booking.span):
        raise BookingTimeError("The spare date overlaps the session itself.")
    if not at < decide_by <= min(booking.starts_at, span.start):
        raise BookingTimeError(
            "Decide at a time that is still to come, and before either date."
        )
    wish = _same(booking, span)
    spare = propose_booking(job=booking.job, wish=wish, by=by, at=at)
    Booking.objects.filter(spare_of=booking).update(spare_of=None)  # a given-up one
    spare.spare_of = booking
    spare.save(update_fields=["spare_of"])
    booking.decide_by = decide_by
    booking.save(update_fields=["decide_by"])
    record(booking, "spare date kept", by=by, at=at)
    return pencil_booking(booking_id=spare.pk, until=span.start, by=by, at=at)


@transaction.atomic
def go_ahead(*, booking_id: int, by: Person, at: datetime) -> Booking:
    """Confirm a session on its own date, and free the spare one.

    Raises BookingMoveError, ClashError, NoSpareError.
    """
    booking = locked_booking(booking_id)
    _free_spare(booking, by=by, at=at)
    return confirm_booking(booking_id=booking.pk, by=by, at=at)


@transaction.atomic
def take_spare(*, booking_id: int, by: Person, at: datetime) -> Booking:
    """Move a session to its spare date and confirm it there; its first date is free.

    Raises BookingMoveError, ClashError, NoSpareError.
    """
    booking = locked_booking(booking_id)
    span = _free_spare(booking, by=by, at=at).span
    move_booking(booking_id=booking.pk, span=span, because=WEATHER, by=by, at=at)
    return confirm_booking(booking_id=booking.pk, by=by, at=at)


def spare_of(booking: Booking) -> Booking | None:
    """Return the spare date that is held for a session, None where none is."""
    held = Booking.objects.filter(spare_of=booking, status__in=HOLDING)
    return held.select_related("place", "job").first()


def _free_spare(booking: Booking, *, by: Person, at: datetime) -> Booking:
    refuse_settled(booking)
    spare = spare_of(booking)
    if spare is None:
        raise NoSpareError("No spare date is held for this session any more.")
    cancel_booking(booking_id=spare.pk, by=by, at=at)
    booking.decide_by = None
    booking.save(update_fields=["decide_by"])
    return spare


def _same(booking: Booking, span: TimeSpan) -> BookingWish:
    wanted = list(booking.reservations.all())
    return BookingWish(
        place=booking.place,
        starts_at=span.start,
        ends_at=span.end,
        setting_up_minutes=booking.setting_up_minutes,
        packing_minutes=booking.packing_minutes,
        person_ids=tuple(row.person_id for row in wanted if row.person_id),
        kit_item_ids=tuple(row.kit_item_id for row in wanted if row.kit_item_id),
        weather_decision=booking.weather_decision,
    )
