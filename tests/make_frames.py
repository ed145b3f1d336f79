"""Builders of frames that are off the plan by a given number of stops."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from uuid import uuid4

from jobs.bookings.models import Booking
from planning.readings.models import Reading
from planning.readings.operations import Frame, accept_offer, keep_reading
from planning.shifts.models import LightShift
from planning.shoots.choices import SkyWord
from planning.shoots.levels import level_at
from planning.shoots.planned import PlannedShoot
from planning.shoots.queries import planned_shoot
from studio.people.models import Person
from tests.make_planning import EVENING

START = EVENING.astimezone(UTC)
FRAME_AT = START + timedelta(minutes=40)
NOW = FRAME_AT + timedelta(minutes=2)


def first_person() -> Person:
    found = Person.objects.order_by("pk").first()
    assert found is not None
    return found


def worked_out(sky: SkyWord | None = None) -> PlannedShoot:
    return planned_shoot(Booking.objects.get(), sky=sky)


def frame(
    change_stops: float, *, position: int = 0, at: datetime = FRAME_AT
) -> Reading:
    # EV = log2(N^2 / t) at ISO 100 (ISO 2720), so t = N^2 / 2^EV: a frame that says
    # so many stops more than the plan has that much shorter a time.
    shoot = worked_out()
    one = shoot.set_ups[position]
    level = level_at(shoot, one, shoot.light.moment(at)).exposure_value
    taken = Frame(
        f_number=4.0,
        shutter_s=16.0 / 2.0 ** (level + change_stops),
        iso=100.0,
        set_up_id=one.facts.pk,
        client_key=str(uuid4()),
    )
    booking = Booking.objects.get()
    return keep_reading(booking=booking, frame=taken, by=first_person(), at=at)


def accept(reading: Reading) -> LightShift:
    booking = Booking.objects.get()
    return accept_offer(
        booking=booking, reading_id=reading.pk, by=first_person(), at=NOW
    )
