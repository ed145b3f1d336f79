"""A session's day in words and as a strip: when, where, and what light there is."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any, Final

from jobs.diary.daylight import (
    Booked,
    Spot,
    events_on,
    minute_of,
    strip_on,
    window_on,
)
from studio.scene.day_strip import StripLook
from studio.scene.drawing import Drawing
from studio.wording import long_date

PAPER_STRIP: Final = StripLook(width=476.0, height=17.0, hours=False)
PAGE_STRIP: Final = StripLook(width=620.0, height=24.0)
PHONE_STRIP: Final = StripLook(width=330.0, height=24.0)
CLOSE: Final = timedelta(minutes=45)
EVENING: Final = timedelta(hours=3)


@dataclass(frozen=True, slots=True, kw_only=True)
class QuotedSession:
    """When and where, and the light of that day."""

    day: str
    clock: str
    place: str
    place_detail: str
    light: str
    note: str
    share: float
    paper_strip: Drawing
    page_strip: Drawing
    phone_strip: Drawing


def quoted_session(written: dict[str, Any] | None) -> QuotedSession | None:
    """Return a snapshot's session in words, with the strips of its day."""
    if written is None:
        return None
    spot = Spot(
        latitude_deg=written["latitude_deg"],
        longitude_deg=written["longitude_deg"],
        time_zone=written["time_zone"],
    )
    start = datetime.fromisoformat(written["starts_at"]).astimezone(spot.zone)
    end = datetime.fromisoformat(written["ends_at"]).astimezone(spot.zone)
    on = start.date()
    booked = [Booked(starts_at=start, ends_at=end)]
    first, last = window_on(spot, on, booked=booked)
    return QuotedSession(
        day=long_date(on),
        clock=clocks(start, end),
        place=written["place_name"],
        place_detail=_place_detail(written),
        light=daylight_words(spot, start),
        note="" if written["is_room"] else light_note(spot, start, end),
        share=(minute_of(start, spot, on) - first) / (last - first),
        paper_strip=strip_on(spot, on, booked=booked, look=PAPER_STRIP),
        page_strip=strip_on(spot, on, booked=booked, look=PAGE_STRIP),
        phone_strip=strip_on(spot, on, booked=booked, look=PHONE_STRIP),
    )


def clocks(start: datetime, end: datetime) -> str:
    """Return the times of a session; an end on another day names that day."""
    until = f"{end:%H:%M}"
    if end.date() != start.date():
        until += f" on {end:%A}"
    return f"{start:%H:%M}–{until}"


def daylight_words(spot: Spot, start: datetime) -> str:
    """Return from when to when the sun is up on a day."""
    day = events_on(spot, start.date())
    if day.sunrise and day.sunset:
        rise, fall = (at.astimezone(spot.zone) for at in (day.sunrise, day.sunset))
        return f"Daylight {rise:%H:%M} to {fall:%H:%M}"
    if day.sun_state == "always down":
        return "The sun does not rise that day"
    return "The sun does not set that day"


def light_note(spot: Spot, start: datetime, end: datetime) -> str:
    """Return what the sun does to a session outdoors, in a sentence or two."""
    day = events_on(spot, start.date())
    if day.sunrise is None or day.sunset is None:
        return f"{daylight_words(spot, start)}."
    rise, fall = (at.astimezone(spot.zone) for at in (day.sunrise, day.sunset))
    if end <= rise or start >= fall:
        return f"The sun is down by then: it is up from {rise:%H:%M} to {fall:%H:%M}."
    if fall < end:
        return (
            f"The sun sets at {fall:%H:%M}, {span_words(end - fall)} before we end, so "
            "the last part is in the light of dusk."
        )
    if start < rise:
        return (
            f"The sun rises at {rise:%H:%M}, {span_words(rise - start)} after we start."
        )
    left = fall - end
    if left > EVENING:
        return f"Daylight all through: the sun is up from {rise:%H:%M} to {fall:%H:%M}."
    prompt = ", so a prompt start matters" if left <= CLOSE else ""
    return (
        f"The sun sets at {fall:%H:%M}, {span_words(left)} after we end{prompt}. Under "
        "cloud the light is soft, and we carry on."
    )


def span_words(span: timedelta) -> str:
    """Return a length of time in words: 38 minutes, 2 h, 1 h 46 min."""
    minutes = round(span.total_seconds() / 60)
    if minutes < 60:
        return f"{minutes} minute" if minutes == 1 else f"{minutes} minutes"
    hours, rest = divmod(minutes, 60)
    return f"{hours} h {rest} min" if rest else f"{hours} h"


def _place_detail(written: dict[str, Any]) -> str:
    address = ", ".join(
        filter(None, map(str.strip, written["place_address"].split("\n")))
    )
    meet = written["meeting_point"] and f"Meet at {written['meeting_point']}"
    return ". ".join(part.rstrip(".") for part in (address, meet) if part)
