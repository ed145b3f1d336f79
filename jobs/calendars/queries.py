"""What pages show of calendars: who is busy elsewhere, and what a person follows."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from urllib.parse import urlsplit

from django.db.models import Count, Q

from jobs.bookings.models import Reservation
from jobs.calendars.models import BusyCalendar, BusyTime
from studio.people.models import Person
from studio.profile.models import StudioProfile
from studio.timespan import TimeSpan
from studio.wording import day_short


def busy_sentence(wanted: Iterable[Reservation]) -> str:
    """Return a sentence on who of those wanted is busy elsewhere, or an empty one.

    It warns and refuses nothing: what else somebody has on is theirs to judge.
    `wanted` is what one booking wants: all of it for the same time. One query at most.
    """
    people = {row.person_id: row for row in wanted if row.person_id}
    if not people:
        return ""
    one = next(iter(people.values()))
    span = TimeSpan(one.starts_at, one.ends_at)
    busy = BusyTime.objects.during(span).filter(person__in=people)
    zone = StudioProfile.load().zone
    said: dict[int, str] = {}
    for time in busy.select_related("person"):
        start, end = time.starts_at.astimezone(zone), time.ends_at.astimezone(zone)
        when = f"from {start:%H:%M} on {day_short(start)}"
        until = (
            f"{end:%H:%M}"
            if end.date() == start.date()
            else (f"{end:%H:%M} on {day_short(end)}")
        )
        said.setdefault(
            time.person_id,
            f"{time.person}’s own calendar is taken {when} to {until}.",
        )
    return " ".join(said.values())


@dataclass(frozen=True, slots=True, kw_only=True)
class FollowedRow:
    """A calendar that a person follows, as their page shows it."""

    pk: int
    name: str
    host: str
    read_at: datetime | None
    fault: str
    ahead: int


def followed_calendars(person: Person, *, at: datetime) -> list[FollowedRow]:
    """Return what a person follows, with how many busy times lie ahead. One query."""
    ahead = Count("times", filter=Q(times__ends_at__gt=at))
    return [
        FollowedRow(
            pk=one.pk,
            name=one.name,
            host=urlsplit(one.address).hostname or "" if one.address else "",
            read_at=one.read_at,
            fault=one.fault,
            ahead=one.__dict__["ahead"],
        )
        for one in BusyCalendar.objects.filter(person=person).annotate(ahead=ahead)
    ]
