"""Axes that the charts of light share: clock time along, EV up."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

from planning.light.exposure import SHUTTER_FULL, shutter_for
from planning.shoots.words import dial_words

_FINEST = timedelta(minutes=15)


@dataclass(frozen=True, slots=True, kw_only=True)
class Plot:
    """The plotting area of a chart, and how its axes map."""

    left: float
    right: float
    top: float
    base: float
    first: datetime
    last: datetime
    lowest: float
    highest: float

    def x(self, at: datetime) -> float:
        """Return where a time stands, kept inside the plot."""
        since = at.timestamp() - self.first.timestamp()
        share = since / (self.last.timestamp() - self.first.timestamp())
        return self.left + min(max(share, 0.0), 1.0) * (self.right - self.left)

    def y(self, value: float) -> float:
        """Return where an EV stands, kept inside the plot."""
        kept = min(max(value, self.lowest), self.highest)
        share = (kept - self.lowest) / (self.highest - self.lowest)
        return self.base - share * (self.base - self.top)

    def shows(self, at: datetime) -> bool:
        """Say whether a time is inside the plot."""
        return self.first <= at <= self.last


def clock_marks(first: datetime, last: datetime, minutes: int) -> list[datetime]:
    """Return the local clock's round times in a span, so many minutes apart.

    An hour that the clock repeats stands twice, one that it leaves out not at all.
    """
    start, end = first.astimezone(UTC), last.astimezone(UTC)
    hour = start.replace(minute=0, second=0, microsecond=0)
    count = int((end - hour) / _FINEST) + 1
    times = (hour + _FINEST * index for index in range(count + 1))
    local = (at.astimezone(first.tzinfo) for at in times if start <= at <= end)
    return [at for at in local if (at.hour * 60 + at.minute) % minutes == 0]


def shutter_mark(exposure_value: float, f_number: float, iso: float) -> str:
    """Return the full-stop shutter that an EV takes at an aperture and ISO."""
    exact = shutter_for(exposure_value=exposure_value, f_number=f_number, iso=iso)
    return dial_words(SHUTTER_FULL.nearest(exact).nominal)
