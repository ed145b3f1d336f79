"""What a search cannot be asked for: each with the box that it stands in."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime, time, timedelta
from typing import Any, Final

from planning.finder.reasons import NAMES
from planning.finder.wishes import (
    BANDS_DEG,
    DAY_MIN,
    LONGEST_SEARCH_DAYS,
    Kind,
    Side,
)

SIDELESS: Final = {Kind.SHADE, Kind.WINDOW, Kind.WINDOW_SUN}


def wrong_days(data: dict[str, Any], at: datetime) -> Iterator[tuple[str, str]]:
    """Give the box and the sentence for days that cannot be searched."""
    first, last, place = data.get("first_on"), data.get("last_on"), data.get("place")
    if first is None or last is None:
        return
    if last < first:
        yield "last_on", "The last day is before the first."
    elif (last - first).days >= LONGEST_SEARCH_DAYS:
        yield "last_on", "A search spans a year at most."
    elif place and last < at.astimezone(place.zone).date():
        yield "last_on", "These days are past. Choose days to come."
    elif not _has_weekday(first, last, data.get("weekdays", [])):
        yield "weekdays", "None of these days of the week lies between the dates."


def _has_weekday(first: date, last: date, weekdays: list[int]) -> bool:
    days = min((last - first).days + 1, 7)
    held = {(first + timedelta(days=day)).weekday() for day in range(days)}
    return bool(held & set(weekdays))


def wrong_hours(data: dict[str, Any]) -> Iterator[tuple[str, str]]:
    """Give the box and the sentence for hours too short for the session."""
    starts, ends = minute_of(data.get("starts")) or 0, minute_of(data.get("ends"))
    minutes = data.get("minutes") or 0
    width = ((ends or DAY_MIN) - starts) % DAY_MIN or DAY_MIN
    if minutes > width:
        yield "minutes", f"A session of {minutes} minutes does not fit in those hours."


def wrong_light(data: dict[str, Any], kind: Kind) -> Iterator[tuple[str, str]]:
    """Give the box and the sentence for light that cannot be asked for so."""
    window, place = data.get("window"), data.get("place")
    if kind.is_indoors and window is None:
        yield "window", "Choose the window that the light comes through."
    elif window and not kind.is_indoors:
        yield "window", "Choose window light above, or leave this at no window."
    elif window and place and window.room.place_id != place.pk:
        yield "window", f"That window is not at {place.name}."
    if kind in SIDELESS and data.get("side") not in {Side.ANY.value, None}:
        yield "side", f"{NAMES[kind]} has no side to look for: choose any side."
    low, high = band_of(kind, data)
    if low >= high:
        name = "low" if data.get("low") is not None else "high"
        yield name, f"Between {low:g}° and {high:g}° there is no height left."


def band_of(kind: Kind, data: dict[str, Any]) -> tuple[float, float]:
    """Return between which heights the sun is wanted; the usual ones if not typed."""
    low, high = BANDS_DEG[kind]
    typed_low, typed_high = data.get("low"), data.get("high")
    return (
        low if typed_low is None else typed_low,
        high if typed_high is None else typed_high,
    )


def minute_of(clock: time | None) -> int | None:
    """Return a time of day as minutes from midnight."""
    return None if clock is None else clock.hour * 60 + clock.minute
