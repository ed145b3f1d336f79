"""Axes that the charts of light share: clock time along, EV up."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from math import ceil, floor

from planning.light.exposure import SHUTTER_FULL, shutter_for


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
        share = (at - self.first) / (self.last - self.first)
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
    """Return the local clock's round times in a span, so many minutes apart."""
    midnight = first.replace(hour=0, minute=0, second=0, microsecond=0)
    since = (first - midnight) / timedelta(minutes=minutes)
    start = ceil(since - 1e-9)
    end = floor((last - midnight) / timedelta(minutes=minutes) + 1e-9)
    step = timedelta(minutes=minutes)
    return [midnight + step * index for index in range(start, end + 1)]


def shutter_mark(exposure_value: float, f_number: float, iso: float) -> str:
    """Return the full-stop shutter that an EV takes at an aperture and ISO."""
    exact = shutter_for(exposure_value=exposure_value, f_number=f_number, iso=iso)
    return SHUTTER_FULL.nearest(exact).nominal.removesuffix(" s")
