"""Clock times as cautions, charts and papers say them."""

from __future__ import annotations

from datetime import datetime
from zoneinfo import ZoneInfo

from planning.shoots.daylight import Lost
from studio.timespan import clock_words


def lost_words(lost: Lost, zone: ZoneInfo) -> str:
    """Return when the sun is lost: "about 17:10–17:25" or "at 18:07"."""
    if lost.is_sharp:
        return f"at {clock_in(lost.latest_at, zone)}"
    first, last = clock_in(lost.earliest_at, zone), clock_in(lost.latest_at, zone)
    return f"about {first}–{last}"


def clock_in(at: datetime, zone: ZoneInfo) -> str:
    """Return a time by the clock of a place."""
    return clock_words(at.astimezone(zone))
