from datetime import timedelta

import pytest
from django.db import DatabaseError, transaction

from jobs.bookings.holding import ClashError
from jobs.bookings.models import Reservation
from jobs.bookings.operations import (
    cancel_booking,
    confirm_booking,
    let_hold_lapse,
    pencil_booking,
    take_item,
)
from jobs.bookings.states import BookingStatus
from studio.history.models import JournalEntry
from tests.make import NOON, make_booking, make_item, make_person, make_place

pytestmark = pytest.mark.django_db
DAY = NOON + timedelta(days=10)


def test_an_item_is_not_held_for_two_sessions_at_once_and_the_clash_is_named() -> None:
    tripod, ada = make_item(), make_person()
    first = make_booking(items=(tripod,))
    late = make_booking(items=(tripod,), starts_at=DAY + timedelta(hours=1))
    confirm_booking(booking_id=first.pk, by=ada, at=NOON)

    with pytest.raises(
        ClashError, match=r"Tripod is taken on Wed 1 Jul 2026 from 13:00"
    ):
        pencil_booking(booking_id=late.pk, until=None, by=ada, at=NOON)

    late.refresh_from_db()
    assert late.status == BookingStatus.PROPOSED


def test_a_person_is_not_in_two_places() -> None:
    ada = make_person()
    first, second = make_booking(people=(ada,)), make_booking(people=(ada,))
    pencil_booking(booking_id=first.pk, until=None, by=ada, at=NOON)

    with pytest.raises(ClashError, match="Ada Vane is taken"):
        confirm_booking(booking_id=second.pk, by=ada, at=NOON)


def test_a_room_takes_one_session_at_a_time() -> None:
    room, ada = make_place("The studio", is_room=True), make_person()
    first, second = make_booking(place=room), make_booking(place=room)
    confirm_booking(booking_id=first.pk, by=ada, at=NOON)

    with pytest.raises(ClashError, match="The studio is taken"):
        confirm_booking(booking_id=second.pk, by=ada, at=NOON)


def test_an_item_goes_straight_on_to_a_session_that_starts_when_the_other_ends() -> (
    None
):
    tripod, ada = make_item(), make_person()
    first = make_booking(items=(tripod,))
    after = DAY + timedelta(hours=2, minutes=30)
    following = make_booking(items=(tripod,), starts_at=after)
    confirm_booking(booking_id=first.pk, by=ada, at=NOON)

    confirmed = confirm_booking(booking_id=following.pk, by=ada, at=NOON)

    assert confirmed.status == BookingStatus.CONFIRMED


@pytest.mark.parametrize("free", [cancel_booking, let_hold_lapse])
def test_what_is_given_up_is_free_again(free: object) -> None:
    tripod, ada = make_item(), make_person()
    first, second = make_booking(items=(tripod,)), make_booking(items=(tripod,))
    pencil_booking(booking_id=first.pk, until=DAY, by=ada, at=NOON)
    if free is cancel_booking:
        cancel_booking(booking_id=first.pk, by=ada, at=NOON)
    else:
        let_hold_lapse(booking_id=first.pk, at=NOON)

    confirm_booking(booking_id=second.pk, by=ada, at=NOON)

    assert Reservation.objects.filter(holds=True).count() == 1


def test_the_database_refuses_an_overlap_that_the_code_did_not_see() -> None:
    tripod, ada = make_item(), make_person()
    first, second = make_booking(items=(tripod,)), make_booking(items=(tripod,))
    confirm_booking(booking_id=first.pk, by=ada, at=NOON)

    with pytest.raises(DatabaseError), transaction.atomic():
        Reservation.objects.filter(booking=second).update(holds=True)


def test_an_item_taken_later_is_held_as_the_rest_and_once() -> None:
    tripod, ada = make_item(), make_person()
    booking = make_booking()
    confirm_booking(booking_id=booking.pk, by=ada, at=NOON)

    for _ in range(2):
        take_item(booking_id=booking.pk, item=tripod, by=ada, at=NOON)

    kept = booking.reservations.get(kit_item=tripod)
    assert kept.holds
    assert kept.starts_at == booking.on_site_at
    booking.refresh_from_db()
    assert booking.version == 2  # somebody with the form open is told
    assert JournalEntry.objects.filter(verb="item taken").count() == 1


def test_an_item_that_another_session_holds_is_not_taken() -> None:
    tripod, ada = make_item(), make_person()
    first, second = make_booking(items=(tripod,)), make_booking()
    for one in (first, second):
        confirm_booking(booking_id=one.pk, by=ada, at=NOON)

    with pytest.raises(ClashError, match="Tripod is taken"):
        take_item(booking_id=second.pk, item=tripod, by=ada, at=NOON)

    assert not second.reservations.filter(kit_item=tripod).exists()


def test_a_proposed_session_only_wants_what_is_taken_for_it() -> None:
    booking, tripod = make_booking(), make_item()

    take_item(booking_id=booking.pk, item=tripod, by=make_person(), at=NOON)

    assert not booking.reservations.get(kit_item=tripod).holds
