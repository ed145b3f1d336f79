from collections.abc import Callable
from datetime import timedelta
from itertools import product
from typing import Any

import pytest

from jobs.bookings.models import Booking
from jobs.bookings.operations import (
    BookingTimeError,
    BookingWish,
    StaleBookingError,
    cancel_booking,
    change_booking,
    complete_booking,
    confirm_booking,
    let_hold_lapse,
    pencil_booking,
)
from jobs.bookings.states import (
    HOLDING,
    MOVES,
    SETTLED,
    BookingMoveError,
    BookingStatus,
    move,
)
from studio.history.models import JournalEntry
from tests.make import NOON, make_booking, make_item, make_person, make_place

S = BookingStatus
WAYS = {
    (S.PROPOSED, S.PENCILLED),
    (S.PROPOSED, S.CONFIRMED),
    (S.PROPOSED, S.CANCELLED),
    (S.PENCILLED, S.PROPOSED),
    (S.PENCILLED, S.CONFIRMED),
    (S.PENCILLED, S.CANCELLED),
    (S.CONFIRMED, S.COMPLETED),
    (S.CONFIRMED, S.CANCELLED),
}
OPERATIONS: dict[BookingStatus, Callable[..., Any]] = {
    S.PROPOSED: let_hold_lapse,
    S.PENCILLED: pencil_booking,
    S.CONFIRMED: confirm_booking,
    S.COMPLETED: complete_booking,
    S.CANCELLED: cancel_booking,
}


@pytest.mark.parametrize(("status", "to"), product(S, S))
def test_a_booking_goes_from_state_to_state_only_by_the_ways_there_are(
    status: BookingStatus, to: BookingStatus
) -> None:
    if (status, to) in WAYS:
        assert move(status, to) == to
    else:
        with pytest.raises(BookingMoveError, match=to.label.lower()):
            move(status, to)


def test_every_state_has_its_moves() -> None:
    assert set(MOVES) == set(BookingStatus)
    assert set(SETTLED) == {status for status in S if not MOVES[status]}


def booking_at(status: BookingStatus) -> Booking:
    booking = make_booking(items=(make_item(),))
    Booking.objects.filter(pk=booking.pk).update(status=status, confirmed_at=NOON)
    booking.reservations.update(holds=status in HOLDING)
    return booking


@pytest.mark.django_db
@pytest.mark.parametrize(("status", "to"), product(S, S))
def test_each_operation_moves_a_booking_or_leaves_it_untouched(
    status: BookingStatus, to: BookingStatus
) -> None:
    booking, ada = booking_at(status), make_person()
    written = JournalEntry.objects.count()
    words = {"until": NOON + timedelta(days=2)} if to == S.PENCILLED else {}
    stays = status == to == S.CONFIRMED

    if (status, to) in WAYS or stays:
        OPERATIONS[to](booking_id=booking.pk, by=ada, at=NOON, **words)
        expected, lines = to, written + (not stays)
    else:
        with pytest.raises(BookingMoveError):
            OPERATIONS[to](booking_id=booking.pk, by=ada, at=NOON, **words)
        expected, lines = status, written

    booking.refresh_from_db()
    assert booking.status == expected
    assert booking.reservations.get().holds == (expected in HOLDING)
    assert JournalEntry.objects.count() == lines


@pytest.mark.django_db
@pytest.mark.parametrize("status", SETTLED)
def test_a_session_that_is_over_or_called_off_is_not_changed(
    status: BookingStatus,
) -> None:
    booking = booking_at(status)
    wish = BookingWish(
        place=make_place(), starts_at=NOON, ends_at=NOON + timedelta(hours=1)
    )

    with pytest.raises(BookingMoveError, match=status.label.lower()):
        change_booking(booking_id=booking.pk, wish=wish, by=booking.job.owner, at=NOON)


@pytest.mark.django_db
def test_a_hold_lasts_until_a_time_that_is_still_to_come() -> None:
    booking = make_booking()

    with pytest.raises(BookingTimeError):
        pencil_booking(booking_id=booking.pk, until=NOON, by=booking.job.owner, at=NOON)


@pytest.mark.django_db
def test_a_change_over_somebody_elses_change_is_refused() -> None:
    booking = make_booking()
    wish = BookingWish(
        place=booking.place, starts_at=NOON, ends_at=NOON + timedelta(hours=1)
    )
    owner = booking.job.owner
    change_booking(booking_id=booking.pk, wish=wish, by=owner, at=NOON, version=1)

    with pytest.raises(StaleBookingError):
        change_booking(booking_id=booking.pk, wish=wish, by=owner, at=NOON, version=1)


def test_a_session_ends_after_it_starts_and_within_a_fortnight() -> None:
    for hours in (0, -1, 15 * 24):
        with pytest.raises(BookingTimeError):
            BookingWish(
                place=None,  # type: ignore[arg-type]
                starts_at=NOON,
                ends_at=NOON + timedelta(hours=hours),
            )
