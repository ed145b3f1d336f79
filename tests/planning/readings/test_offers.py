"""What a frame offers for the set-ups still to come, and when it offers nothing."""

from datetime import timedelta

import pytest
from django.test import Client
from django.urls import reverse

from jobs.bookings.models import Booking
from planning.location.operations import set_tick
from planning.readings.offers import offer_of
from planning.readings.operations import (
    NothingToShiftError,
)
from planning.shifts.models import LightShift
from tests.make_frames import (
    FRAME_AT,
    NOW,
    START,
    accept,
    first_person,
    frame,
    worked_out,
)
from tests.make_planning import make_shoot

pytestmark = pytest.mark.django_db


@pytest.fixture
def booking() -> Booking:
    return make_shoot()


def test_the_frame_offers_to_shift_what_is_still_to_come(booking: Booking) -> None:
    reading = frame(-0.7)

    offer = offer_of(worked_out(), NOW)

    assert offer is not None
    assert offer.reading_id == reading.pk
    assert offer.verb == "Shift the set-ups still to come by 0.7 stop"
    assert offer.found == "The frame at 15:40 was 0.7 stop darker than planned."
    assert "outdoors under a sky that is clear" in offer.set_ups


def test_what_is_done_is_not_named_as_still_to_come(booking: Booking) -> None:
    first = worked_out().set_ups[0].facts
    set_tick(
        booking=booking,
        key=f"set-up:{first.pk}",
        is_done=True,
        by=first_person(),
        at=NOW,
    )

    frame(-0.7)

    offer = offer_of(worked_out(), NOW)
    assert offer is not None
    assert offer.set_ups.startswith("It moves set-ups 2 and 3,")


def test_accepted_twice_is_shifted_once(booking: Booking) -> None:
    reading = frame(0.4)

    assert accept(reading) == accept(reading)
    assert LightShift.objects.count() == 1


@pytest.mark.parametrize("change", [0.0, -0.19, 0.15])
def test_a_frame_as_planned_offers_nothing(booking: Booking, change: float) -> None:
    reading = frame(change)

    assert offer_of(worked_out(), NOW) is None
    with pytest.raises(NothingToShiftError):
        accept(reading)


def test_an_older_frame_written_later_offers_nothing(booking: Booking) -> None:
    accept(frame(-0.7))

    frame(-1.5, at=FRAME_AT - timedelta(minutes=10))

    assert offer_of(worked_out(), NOW) is None


def test_nothing_is_offered_when_nothing_is_to_come(booking: Booking) -> None:
    frame(-0.7)

    assert offer_of(worked_out(), START + timedelta(hours=5)) is None


def test_the_buttons_shift_and_take_back(
    booking: Booking, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("django.utils.timezone.now", lambda: NOW)
    client = Client()
    client.force_login(first_person())
    reading = frame(-0.7)
    address = reverse("planning:reading_shift", args=[booking.pk, reading.pk])

    client.post(address)
    shift = LightShift.objects.get()
    client.post(reverse("planning:shift_back", args=[shift.pk]))
    shift.refresh_from_db()

    assert shift.made_by == first_person()
    assert shift.taken_back_by == first_person()
