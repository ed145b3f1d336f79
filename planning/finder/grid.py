"""Every minute of some days: as an instant, on the place's clock, and in the sky."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from itertools import pairwise
from zoneinfo import ZoneInfo

import numpy as np
import numpy.typing as npt

from planning.light.moments import EPOCH, FloatArray
from planning.light.sun import sun_position

Minutes = npt.NDArray[np.int64]
_PHASES = 5


@dataclass(frozen=True, slots=True, kw_only=True)
class Grid:
    """Consecutive minutes; `clock` counts the minutes of the place's own clock.

    Both clocks count from 1970-01-01 00:00, so whole days of `clock` are dates.
    """

    first_minute: int
    clock: Minutes
    zone: ZoneInfo

    @property
    def size(self) -> int:
        """How many minutes there are."""
        return int(self.clock.size)

    def instant(self, index: int) -> datetime:
        """Return one of the minutes as a moment in UTC."""
        return EPOCH + timedelta(minutes=self.first_minute + int(index))

    def index(self, at: datetime) -> int:
        """Return the first minute that is not before a moment."""
        return -((EPOCH - at) // timedelta(minutes=1)) - self.first_minute


@dataclass(frozen=True, slots=True, kw_only=True)
class SunTrack:
    """Where the sun stands at each minute of a grid: centre, without air; true."""

    altitude_deg: FloatArray
    azimuth_deg: FloatArray


def grid_of(zone: ZoneInfo, first_on: date, days: int, *, beyond: int) -> Grid:
    """Return the minutes of some dates of a clock, and so many beyond the last.

    Where the clocks change is found to the minute.
    """
    first = first_on.toordinal()
    dates = [date.fromordinal(first + day) for day in range(days + 1)]
    midnights = [_minute(datetime.combine(on, time(), zone)) for on in dates]
    start, stop = midnights[0], midnights[-1] + beyond
    knots = sorted({*(one for one in midnights), stop})
    changes = [start]
    for one, two in pairwise(knots):
        if _offset(one, zone) != _offset(two, zone):
            changes.append(_change(one, two, zone))
    offsets = [_offset(one, zone) for one in changes]
    lengths = [two - one for one, two in pairwise([*changes, stop])]
    clock = np.arange(start, stop) + np.repeat(offsets, lengths)
    return Grid(first_minute=start, clock=clock, zone=zone)


def sun_of(grid: Grid, latitude_deg: float, longitude_deg: float) -> SunTrack:
    """Return the sun at each minute of a grid.

    Five interleaved series of five-minute steps, which the light core works out
    several times as quickly as one of single minutes.
    """
    steps = -(-grid.size // _PHASES)
    rows = np.empty((2, steps, _PHASES))
    firsts = grid.first_minute + np.arange(steps) * _PHASES
    for phase in range(_PHASES):
        sun = sun_position(
            latitude_deg=latitude_deg,
            longitude_deg=longitude_deg,
            at=(firsts + phase).astype("datetime64[m]").astype("datetime64[us]"),
        )
        rows[0, :, phase] = sun.altitude_deg
        rows[1, :, phase] = sun.azimuth_deg
    altitude, azimuth = rows.reshape(2, -1)[:, : grid.size]
    return SunTrack(altitude_deg=altitude, azimuth_deg=azimuth)


def date_of(day: int) -> date:
    """Return a day counted from 1970-01-01 as a date."""
    return EPOCH.date() + timedelta(days=int(day))


def day_of(on: date) -> int:
    """Return a date as days counted from 1970-01-01."""
    return (on - EPOCH.date()).days


def _minute(at: datetime) -> int:
    return (at.astimezone(UTC) - EPOCH) // timedelta(minutes=1)


def _offset(minute: int, zone: ZoneInfo) -> int:
    """Return how far a clock is ahead at a minute of UTC, in minutes."""
    local = (EPOCH + timedelta(minutes=minute)).astimezone(zone)
    return (local.utcoffset() or timedelta()) // timedelta(minutes=1)


def _change(one: int, two: int, zone: ZoneInfo) -> int:
    """Return the first minute between two that has the offset of the second."""
    later = _offset(two, zone)
    while two - one > 1:
        middle = (one + two) // 2
        if _offset(middle, zone) == later:
            two = middle
        else:
            one = middle
    return two
