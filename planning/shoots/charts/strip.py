"""The day strip of a place and date: its light worked out, booked time beneath."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime, time, timedelta
from zoneinfo import ZoneInfo

import numpy as np

from planning.light.sun import sun_position
from planning.shoots.daylight import Where
from studio.scene.day_phases import (
    DAY_MINUTES,
    Block,
    DayPhases,
    phases_from_altitudes,
    window_for,
)
from studio.scene.day_strip import StripLook, day_strip
from studio.scene.drawing import Drawing

STEP = timedelta(minutes=10)
WIDE = StripLook()


def strip_of(
    where: Where,
    on: date,
    *,
    blocks: Sequence[Block] = (),
    look: StripLook = WIDE,
    now_minute: float | None = None,
) -> Drawing:
    """Draw the day strip of a date at a place."""
    day = day_phases_of(where, on, blocks=blocks)
    return day_strip(day, blocks=blocks, now_minute=now_minute, look=look)


def day_phases_of(where: Where, on: date, *, blocks: Sequence[Block] = ()) -> DayPhases:
    """Return the phases of a date's light by the clock of the place."""
    until = max([DAY_MINUTES, *(block.end_minute for block in blocks)])
    samples = _samples(where, on, timedelta(minutes=until + 60))
    phases = phases_from_altitudes(
        minutes=[minute for minute, _ in samples],
        altitudes_deg=[altitude for _, altitude in samples],
    )
    first, last = window_for(phases, blocks=blocks)
    return DayPhases(phases=phases, first_minute=first, last_minute=last)


def clock_minute(at: datetime, on: date, zone: ZoneInfo) -> float:
    """Return the minutes of the place's clock from a date's midnight to an instant."""
    local = at.astimezone(zone)
    days = (local.date() - on).days
    return days * DAY_MINUTES + local.hour * 60 + local.minute + local.second / 60


def _samples(where: Where, on: date, length: timedelta) -> list[tuple[float, float]]:
    """Return clock minutes and true altitudes; an hour that comes twice, once."""
    midnight = datetime.combine(on, time.min, where.zone).astimezone(ZoneInfo("UTC"))
    start = midnight.replace(tzinfo=None)
    count = int(length / STEP)
    times = [start + STEP * index for index in range(count + 1)]
    sun = sun_position(
        latitude_deg=where.latitude_deg,
        longitude_deg=where.longitude_deg,
        at=np.array(times, dtype="datetime64[us]"),
    )
    kept: list[tuple[float, float]] = []
    for at, altitude in zip(times, sun.altitude_deg, strict=True):
        instant = at.replace(tzinfo=ZoneInfo("UTC"))
        minute = clock_minute(instant, on, where.zone)
        if not kept or minute > kept[-1][0]:
            kept.append((minute, float(altitude)))
    return kept
