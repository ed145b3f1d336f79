"""Which shift holds for a set-up, and how pages say it."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime
from zoneinfo import ZoneInfo

from django.db.models import Prefetch, prefetch_related_objects

from jobs.bookings.models import Booking
from planning.shifts.models import LightKind, LightShift
from planning.shoots.choices import Light, SkyWord
from studio.timespan import clock_words

AS_PLANNED_STOPS = 0.2
"""Closer than a camera's third stops can tell; common practice, no source."""
KINDS = {
    Light.OPEN_SKY: LightKind.OUTDOORS,
    Light.OPEN_SHADE: LightKind.OUTDOORS,
    Light.WINDOW: LightKind.WINDOW,
}
"""A flash as the only light has none: no sky changes it."""


def shifts_of(booking: Booking, sky: SkyWord) -> tuple[LightShift, ...]:
    """Return the shifts that hold under a sky, the latest first; asked for once."""
    held = LightShift.objects.filter(taken_back_at=None)
    held = held.select_related("made_by", "set_up")
    prefetch_related_objects([booking], Prefetch("light_shifts", held))
    return tuple(one for one in booking.light_shifts.all() if one.sky == sky)


def shift_for(
    shifts: Iterable[LightShift],
    *,
    pk: int,
    light: Light,
    starts_at: datetime,
    ends_at: datetime,
) -> LightShift | None:
    """Return the latest shift that holds for a set-up: of its light, and in time."""
    kind = KINDS.get(light)
    for one in shifts:
        is_own = pk != 0 and one.set_up_id == pk
        if one.kind == kind and (is_own or _reaches(one, starts_at, ends_at)):
            return one
    return None


def _reaches(shift: LightShift, starts_at: datetime, ends_at: datetime) -> bool:
    """Say whether a set-up was still to come: by the clock, or after the frame's own.

    A session that runs late has set-ups to come whose time is over.
    """
    own = shift.set_up
    return ends_at > shift.frame_at or (own is not None and starts_at >= own.starts_at)


def stops_words(change_stops: float) -> str:
    """Return what a change says of the plan: "0.7 stop darker than planned"."""
    if abs(change_stops) < AS_PLANNED_STOPS:
        return "as planned"
    way = "brighter" if change_stops > 0 else "darker"
    return f"{size_words(change_stops)} {way} than planned"


def size_words(change_stops: float) -> str:
    """Return how large a change is: "0.7 stop"."""
    size = abs(change_stops)
    return f"{size:.1f} {'stop' if size < 1.05 else 'stops'}"


def shift_words(shift: LightShift, zone: ZoneInfo) -> str:
    """Return a shift: "0.7 stop darker than planned, from the frame at 16:40"."""
    clock = clock_words(shift.frame_at.astimezone(zone))
    return f"{stops_words(shift.stops)}, from the frame at {clock}"
