"""The light of a day at a place, as the diary, quotes and papers draw it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from functools import lru_cache
from zoneinfo import ZoneInfo

import numpy as np

from planning.light.almanac import LightDay, light_day
from planning.light.sun import sun_position
from studio.scene.day_phases import (
    DAY_MINUTES,
    Block,
    DayPhases,
    PhaseStart,
    phases_from_altitudes,
    window_for,
)
from studio.scene.day_strip import StripLook, day_strip
from studio.scene.drawing import Drawing

SAMPLE_MINUTES = 10


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """Where a day's light is looked at, and whose clock counts."""

    latitude_deg: float
    longitude_deg: float
    time_zone: str

    @property
    def zone(self) -> ZoneInfo:
        """The clock of the spot."""
        return ZoneInfo(self.time_zone)


@dataclass(frozen=True, slots=True, kw_only=True)
class Booked:
    """Time to be hung beneath a day's strip."""

    starts_at: datetime
    ends_at: datetime
    held: bool = False
    label: str = ""
    says: str = ""


@lru_cache(maxsize=1024)
def events_on(spot: Spot, on: date) -> LightDay:
    """Return the events of a day's light at a spot."""
    return light_day(
        latitude_deg=spot.latitude_deg,
        longitude_deg=spot.longitude_deg,
        on=on,
        tz=spot.zone,
    )


@lru_cache(maxsize=1024)
def phases_on(spot: Spot, on: date) -> tuple[PhaseStart, ...]:
    """Return the phases of a day from midnight to midnight, and six hours beyond."""
    midnight = datetime.combine(on, time())
    minutes = list(range(-360, 1801, SAMPLE_MINUTES))
    clocks = [midnight + timedelta(minutes=minute) for minute in minutes]
    stamps = np.array(
        [
            one.replace(tzinfo=spot.zone).astimezone(UTC).replace(tzinfo=None)
            for one in clocks
        ],
        dtype="datetime64[us]",
    )
    sun = sun_position(
        latitude_deg=spot.latitude_deg, longitude_deg=spot.longitude_deg, at=stamps
    )
    return phases_from_altitudes(
        minutes=minutes,
        altitudes_deg=[float(one) for one in np.atleast_1d(sun.altitude_deg)],
    )


def strip_on(
    spot: Spot,
    on: date,
    *,
    booked: Sequence[Booked] = (),
    now: datetime | None = None,
    look: StripLook | None = None,
    window: tuple[float, float] | None = None,
) -> Drawing:
    """Draw a day's strip at a spot, with booked time beneath it.

    Strips that stand in one column share a `window`: first and last minute shown.
    """
    blocks = _blocks(spot, on, booked)
    first, last = window or window_on(spot, on, booked=booked)
    phases = phases_on(spot, on)
    day = DayPhases(phases=phases, first_minute=first, last_minute=last)
    now_minute = minute_of(now, spot, on) if now else None
    return day_strip(
        day, blocks=blocks, now_minute=now_minute, look=look or StripLook()
    )


def window_on(
    spot: Spot, on: date, *, booked: Sequence[Booked] = ()
) -> tuple[float, float]:
    """Return the first and last minute of the day that its strip shows."""
    phases = _of_one_day(phases_on(spot, on))
    return window_for(phases, blocks=_blocks(spot, on, booked))


def shared_window(spot: Spot, days: Sequence[date]) -> tuple[float, float]:
    """Return one first and last minute that suit the strips of several days."""
    windows = [window_on(spot, on) for on in days]
    return min(first for first, _ in windows), max(last for _, last in windows)


def sun_words(spot: Spot, on: date) -> str:
    """Return when the sun rises and sets on a day, by the clock of the spot."""
    day = events_on(spot, on)
    if day.sunrise is None and day.sunset is None:
        up = day.sun_state == "always up"
        return "The sun does not set" if up else "The sun does not rise"
    parts = []
    if day.sunrise:
        parts.append(f"sunrise {_clock_words(day.sunrise, spot, on)}")
    if day.sunset:
        parts.append(f"sunset {_clock_words(day.sunset, spot, on)}")
    words = ", ".join(parts)
    return words[0].upper() + words[1:]


def minute_of(at: datetime, spot: Spot, on: date) -> float:
    """Return a moment as minutes of the clock since a day's local midnight."""
    local = at.astimezone(spot.zone).replace(tzinfo=None)
    return (local - datetime.combine(on, time())).total_seconds() / 60.0


def _clock_words(at: datetime, spot: Spot, on: date) -> str:
    local = at.astimezone(spot.zone)
    days = (local.date() - on).days
    beside = {-1: " the day before", 1: " the day after"}.get(days, "")
    return f"{local:%H:%M}{beside}"


def _blocks(spot: Spot, on: date, booked: Sequence[Booked]) -> list[Block]:
    return [_block(spot, on, one) for one in booked]


def _block(spot: Spot, on: date, booked: Booked) -> Block:
    start = minute_of(booked.starts_at, spot, on)
    # Where the clocks go back inside a short session, its end reads before its start.
    end = max(minute_of(booked.ends_at, spot, on), start + 1.0)
    return Block(
        start_minute=start,
        end_minute=end,
        label=booked.label,
        held=booked.held,
        says=booked.says,
    )


def _of_one_day(phases: Sequence[PhaseStart]) -> list[PhaseStart]:
    """Leave out the evening before and the morning after."""
    ends = [following.minute for following in phases[1:]] + [DAY_MINUTES]
    return [
        PhaseStart(max(start.minute, 0.0), start.phase)
        for start, end in zip(phases, ends, strict=True)
        if end > 0.0 and start.minute < DAY_MINUTES
    ]
