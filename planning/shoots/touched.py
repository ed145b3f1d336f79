"""What moving a session touches of its light, and what of its plan goes along."""

from __future__ import annotations

from copy import copy
from datetime import datetime, timedelta

from django.urls import reverse

from jobs.bookings.models import Booking
from jobs.diary.daylight import Spot, sun_words
from planning.shoots.choices import SkyWord
from planning.shoots.models import SetUp, ShootPlan
from planning.shoots.operations import shift_set_ups
from planning.shoots.planned import Caution
from planning.shoots.queries import rows_of, work_out
from studio.effects import Change, Effect, Weight, follows_a_move, touches
from studio.people.models import Person


@touches(action="plan.see", order=15)
def light_then(change: Change) -> list[Effect]:
    """Tell what may go wrong with the light at the new time, that does not now.

    The plan is worked out at both times, its set-ups as long after the start as now.
    """
    booking: Booking = change.booking
    if change.is_off or change.starts_at is None:
        return []
    plan = ShootPlan.objects.filter(booking=booking).first()
    sky = SkyWord(plan.sky) if plan else SkyWord.CLEAR
    rows = rows_of(plan) if plan else []
    known = {_key(one) for one in work_out(booking, rows, sky).cautions}
    moved = _moved(booking, change)
    later = [_later(row, change.shift) for row in rows]
    found = [
        Effect(
            title=one.title,
            words=one.sentence,
            weight=Weight.WARNS if one.is_risk else Weight.TELLS,
            url=reverse("planning:plan", args=[booking.pk]),
            verb="Open plan",
        )
        for one in work_out(moved, later, sky).cautions
        if _key(one) not in known
    ]
    return found or [_sun_then(moved)]


@follows_a_move
def plan_goes_along(
    booking: Booking, shift: timedelta, by: Person, at: datetime
) -> None:
    """Move the set-ups of a session along with it."""
    plan = ShootPlan.objects.filter(booking=booking).first()
    if plan is not None:
        shift_set_ups(plan_id=plan.pk, shift=shift, by=by, at=at)


def _key(caution: Caution) -> tuple[str, str, int | None]:
    """Return what makes a caution the same one at another time."""
    return caution.rule, caution.title, caution.set_up


def _moved(booking: Booking, change: Change) -> Booking:
    moved = copy(booking)
    moved.starts_at = change.starts_at or booking.starts_at
    moved.ends_at = change.ends_at or booking.ends_at
    return moved


def _later(row: SetUp, shift: timedelta) -> SetUp:
    later = copy(row)
    later.starts_at = row.starts_at + shift
    return later


def _sun_then(booking: Booking) -> Effect:
    place = booking.place
    spot = Spot(
        latitude_deg=place.latitude_deg,
        longitude_deg=place.longitude_deg,
        time_zone=place.time_zone,
    )
    words = sun_words(spot, booking.local_start.date())
    return Effect(title="The light then", words=f"{words}.", weight=Weight.TELLS)
