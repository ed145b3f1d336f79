"""Writing sessions down as iCalendar (RFC 5545), for feeds, mails and downloads.

All times are in UTC. A local time cannot say which of two equal clock times is meant
when the clocks go back, and a reader needs no table of zones for UTC.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import asdict, dataclass
from datetime import UTC, datetime, timedelta
from enum import StrEnum
from typing import Any, Final, Self

from icalendar import Alarm, Calendar, Event, vCalAddress, vDuration, vText

PRODUCT: Final = "-//Northsill//Calendar//EN"
FETCH_EVERY: Final = timedelta(hours=1)


class Method(StrEnum):
    """What a calendar is sent for (RFC 5546)."""

    PUBLISH = "PUBLISH"
    REQUEST = "REQUEST"
    CANCEL = "CANCEL"


class Firmness(StrEnum):
    """How firm an event is (RFC 5545, 3.8.1.11)."""

    TENTATIVE = "TENTATIVE"
    CONFIRMED = "CONFIRMED"
    CANCELLED = "CANCELLED"


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """What an event says; kept as JSON to be compared with what it says now."""

    starts_at: datetime
    ends_at: datetime
    title: str
    firmness: Firmness
    place: str = ""
    words: str = ""
    alarm_minutes: int | None = None

    def as_json(self) -> dict[str, Any]:
        """Return the facts as they are kept."""
        kept = asdict(self)
        for name in ("starts_at", "ends_at"):
            kept[name] = kept[name].astimezone(UTC).isoformat()
        return kept

    @classmethod
    def from_json(cls, kept: dict[str, Any]) -> Self:
        """Return the facts from what was kept."""
        values = dict(kept)
        for name in ("starts_at", "ends_at"):
            values[name] = datetime.fromisoformat(kept[name])
        values["firmness"] = Firmness(kept["firmness"])
        return cls(**values)


@dataclass(frozen=True, slots=True, kw_only=True)
class Guest:
    """Who invites, or who is invited."""

    name: str
    address: str


@dataclass(frozen=True, slots=True, kw_only=True)
class EventRow:
    """One event with what tells it and its versions apart."""

    uid: str
    told: Told
    sequence: int
    changed_at: datetime
    organizer: Guest | None = None
    attendee: Guest | None = None


def write_calendar(
    events: Iterable[EventRow], *, method: Method, name: str = ""
) -> bytes:
    """Return events as a calendar, its lines folded at 75 octets and ended by CRLF."""
    calendar = Calendar()
    calendar.add("prodid", PRODUCT)
    calendar.add("version", "2.0")
    calendar.add("calscale", "GREGORIAN")
    calendar.add("method", method.value)
    if name:
        calendar.add("name", name)
        calendar.add("x-wr-calname", name)
        fetched = vDuration(FETCH_EVERY)
        fetched.params["VALUE"] = "DURATION"
        calendar.add("refresh-interval", fetched)
    for one in events:
        calendar.add_component(_event(one))
    written: bytes = calendar.to_ical()
    return written


def _event(one: EventRow) -> Event:
    told, event = one.told, Event()
    event.add("uid", one.uid)
    event.add("sequence", one.sequence)
    event.add("dtstamp", _utc(one.changed_at))
    event.add("last-modified", _utc(one.changed_at))
    event.add("dtstart", _utc(told.starts_at))
    event.add("dtend", _utc(told.ends_at))
    event.add("summary", told.title)
    event.add("status", told.firmness.value)
    event.add("class", "PRIVATE")
    if told.place:
        event.add("location", told.place)
    if told.words:
        event.add("description", told.words)
    _name_guests(event, one)
    if told.firmness == Firmness.CANCELLED:
        event.add("transp", "TRANSPARENT")
    elif told.alarm_minutes is not None:
        before = timedelta(minutes=told.alarm_minutes)
        event.add_component(_alarm(before, told.title))
    return event


def _name_guests(event: Event, one: EventRow) -> None:
    if one.organizer:
        event.add("organizer", _address(one.organizer))
    if one.attendee:
        asked = _address(one.attendee)
        asked.params["ROLE"] = vText("REQ-PARTICIPANT")
        asked.params["PARTSTAT"] = vText("NEEDS-ACTION")
        asked.params["RSVP"] = vText("TRUE")
        event.add("attendee", asked)


def _address(guest: Guest) -> vCalAddress:
    written = vCalAddress(f"mailto:{guest.address}")
    # a name in a parameter may hold neither quotes nor controls (RFC 5545, 3.1)
    plain = "".join(sign for sign in guest.name if sign.isprintable() and sign != '"')
    if plain.strip():
        written.params["CN"] = vText(plain.strip())
    return written


def _alarm(before: timedelta, title: str) -> Alarm:
    alarm = Alarm()
    alarm.add("action", "DISPLAY")
    alarm.add("description", title)
    alarm.add("trigger", -before)
    return alarm


def _utc(at: datetime) -> datetime:
    return at.astimezone(UTC).replace(microsecond=0)
