"""A session that an address asks for: its place and time, who and what is wanted.

Pages that find a time lead to the session's form by such an address.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from typing import Final
from urllib.parse import urlencode

from django.utils.datastructures import MultiValueDict

from jobs.bookings.models import LONGEST
from jobs.kits.models import KitItem
from jobs.places.models import Place
from studio.people.models import Person
from studio.timespan import TimeSpan

MOST_SETTING_UP: Final = 720


@dataclass(frozen=True, slots=True, kw_only=True)
class AskedSession:
    """A session as an address asks for it; nothing of it is kept yet."""

    place: Place
    span: TimeSpan
    setting_up_minutes: int
    person_ids: tuple[int, ...] = ()
    item_ids: tuple[int, ...] = ()

    @property
    def day(self) -> date:
        """The date of the start, by the clock of the place."""
        return self.span.start.astimezone(self.place.zone).date()


def asked_address(asked: AskedSession) -> str:
    """Return a session as the part of an address that `read_asked` reads."""
    query = {
        "place": asked.place.pk,
        "start": _written(asked.span.start),
        "end": _written(asked.span.end),
        "before": asked.setting_up_minutes,
        "people": asked.person_ids,
        "kit": asked.item_ids,
    }
    return urlencode(query, doseq=True)


def read_asked(query: MultiValueDict[str, str]) -> AskedSession | None:
    """Return the session that an address asks for; None where it asks for none."""
    (place_id,) = _numbers([query.get("place", "")]) or (0,)
    span = _span(query.get("start", ""), query.get("end", ""))
    place = Place.objects.filter(pk=place_id).first() if place_id and span else None
    if place is None or span is None:
        return None
    (before,) = _numbers([query.get("before", "")]) or (0,)
    people = Person.objects.filter(
        pk__in=_numbers(query.getlist("people")), is_active=True
    )
    items = KitItem.objects.in_use().filter(pk__in=_numbers(query.getlist("kit")))
    return AskedSession(
        place=place,
        span=span,
        setting_up_minutes=min(before, MOST_SETTING_UP),
        person_ids=tuple(people.values_list("pk", flat=True)),
        item_ids=tuple(items.values_list("pk", flat=True)),
    )


def _span(start: str, end: str) -> TimeSpan | None:
    try:
        span = TimeSpan(datetime.fromisoformat(start), datetime.fromisoformat(end))
    except (ValueError, OverflowError):
        return None
    return span if span.duration <= LONGEST else None


def _numbers(written: list[str]) -> tuple[int, ...]:
    kept = [one for one in written if one.isascii() and one.isdigit() and len(one) < 10]
    return tuple(int(one) for one in kept)


def _written(at: datetime) -> str:
    return f"{at:%Y-%m-%dT%H:%M}Z"
