"""What a search needs of the studio's records, and what its page shows."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from typing import Final

from django.core.paginator import Page, Paginator
from django.urls import reverse

from jobs.bookings.asked import AskedSession, asked_address
from jobs.bookings.holding import resource_of
from jobs.bookings.models import Reservation
from jobs.bookings.queries import session_to_edit, spot_of
from jobs.calendars.models import BusyTime
from jobs.diary.daylight import Booked, shared_window, strip_on
from jobs.jobs.models import Job
from jobs.kits.models import KitItem
from jobs.places.models import Place
from planning.finder.reasons import days_words, slot_words, why_not_more
from planning.finder.search import Search, Slot
from planning.finder.slots import position_name
from planning.finder.wishes import Wish
from planning.shoots.queries import where_of
from studio.people.models import Person
from studio.scene.day_strip import StripLook
from studio.scene.drawing import Drawing
from studio.timespan import TimeSpan

A_PAGE: Final = 20
WIDE: Final = StripLook(width=620.0)
NARROW: Final = StripLook(width=340.0, type_size=12.5)
OWN_CALENDAR: Final = "calendar"


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """What a search is for: the wish, the place, and who and what has to be free.

    Of each of `one_of` a different item has to be.
    """

    wish: Wish
    place: Place
    job: Job | None = None
    person_ids: tuple[int, ...] = ()
    item_ids: tuple[int, ...] = ()
    one_of: tuple[tuple[KitItem, ...], ...] = ()
    by_date: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class SlotRow:
    """One slot as the page lists it."""

    slot: Slot
    day: date
    words: str
    strip: Drawing
    strip_narrow: Drawing
    hold_url: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """What a search found: a page of slots, and what stood in the way."""

    place: Place
    rows: tuple[SlotRow, ...]
    page: Page[int]
    count: int
    days_words: str
    obstacles: tuple[str, ...]
    is_estimated: bool


def answer(asked: Asked, *, page: str) -> Answer:
    """Search, and return a page of what was found. Six queries at most."""
    names = _names(asked)
    several = {resource_of(one.pk) for items in asked.one_of for one in items}
    taken = _taken(asked, {*names, *several})
    one_of = [
        {name: taken[name] for name in (resource_of(one.pk) for one in items)}
        for items in asked.one_of
    ]
    must = {name: taken[name] for name in names}
    search = Search(asked.wish, where_of(asked.place), must, one_of)
    names |= {
        position_name(position): f"Each of {_and_words(items)}"
        for position, items in zip(one_of, asked.one_of, strict=True)
    }
    if asked.by_date:
        search.by_date()
    shown = Paginator(range(search.count), A_PAGE).get_page(page)
    slots = search.slots(max(shown.start_index() - 1, 0), A_PAGE)
    return Answer(
        place=asked.place,
        rows=tuple(_rows(asked, search, slots)),
        page=shown,
        count=search.count,
        days_words=days_words(search),
        obstacles=tuple(why_not_more(search, names)),
        is_estimated=search.where.estimated and bool(search.where.skyline),
    )


def _taken(asked: Asked, resources: Iterable[str]) -> dict[str, list[TimeSpan]]:
    """Return when each thing is held. Two queries, bounded by the dates asked for."""
    found: dict[str, list[TimeSpan]] = {name: [] for name in resources}
    span = _span(asked)
    held = Reservation.objects.during(span).filter(resource__in=list(found), holds=True)
    if asked.job and (own := session_to_edit(asked.job)):
        held = held.exclude(booking=own)
    for name, start, end in held.values_list("resource", "starts_at", "ends_at"):
        found[name].append(TimeSpan(start, end))
    busy = BusyTime.objects.during(span).filter(person__in=asked.person_ids)
    for person_id, start, end in busy.values_list("person_id", "starts_at", "ends_at"):
        found[f"{OWN_CALENDAR}:{person_id}"].append(TimeSpan(start, end))
    return found


def _span(asked: Asked) -> TimeSpan:
    """Return the dates asked for, with a day before them and two after."""
    hours = asked.wish.hours
    first = hours.first_on - timedelta(days=1)
    start = datetime.combine(first, time(), asked.place.zone).astimezone(UTC)
    return TimeSpan(start, start + timedelta(days=hours.days + 3))


def _names(asked: Asked) -> dict[str, str]:
    """Return what has to be free, by the word that a reservation has for it."""
    people = Person.objects.filter(pk__in=asked.person_ids)
    items = KitItem.objects.filter(pk__in=asked.item_ids)
    names = {f"person:{one.pk}": str(one) for one in people}
    names |= {
        f"{OWN_CALENDAR}:{one.pk}": f"{one}, by their own calendar," for one in people
    }
    names |= {f"kit:{one.pk}": one.name for one in items}
    if asked.place.is_room:
        names[f"room:{asked.place.pk}"] = asked.place.name
    return names


def _rows(asked: Asked, search: Search, slots: list[Slot]) -> Iterable[SlotRow]:
    spot, zone = spot_of(asked.place), asked.place.zone
    days = [slot.start_at.astimezone(zone).date() for slot in slots]
    window = shared_window(spot, days) if days else None
    for slot, day in zip(slots, days, strict=True):
        hung = Booked(
            starts_at=slot.start_at, ends_at=slot.end_at, held=True, says="Offered"
        )
        strip, narrow = (
            strip_on(spot, day, booked=[hung], look=look, window=window)
            for look in (WIDE, NARROW)
        )
        yield SlotRow(
            slot=slot,
            day=day,
            words=slot_words(asked.wish, search.where, slot),
            strip=strip,
            strip_narrow=narrow,
            hold_url=_hold_url(asked, search, slot),
        )


def _hold_url(asked: Asked, search: Search, slot: Slot) -> str:
    numbers = {resource_of(one.pk): one.pk for items in asked.one_of for one in items}
    chosen = [numbers[name] for name in search.chosen(slot)]
    wanted = AskedSession(
        place=asked.place,
        span=TimeSpan(slot.start_at, slot.end_at),
        setting_up_minutes=asked.wish.before_minutes,
        person_ids=asked.person_ids,
        item_ids=(*asked.item_ids, *chosen),
    )
    if asked.job:
        url = reverse("jobs:session", args=[asked.job.pk])
    else:
        url = reverse("planning:finder_hold")
    return f"{url}?{asked_address(wanted)}"


def _and_words(items: Iterable[KitItem]) -> str:
    *others, last = [item.name for item in items]
    return f"{', '.join(others)} and {last}" if others else last
