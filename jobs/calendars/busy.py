"""Reading when a person is busy, from a file or an address that they gave."""

from __future__ import annotations

import json
import subprocess
import sys
from collections.abc import Callable
from datetime import datetime, timedelta
from typing import Any, Final

from django.conf import settings
from django.db import transaction

from jobs.calendars.fetching import FetchError, check_address, fetch
from jobs.calendars.models import BusyCalendar, BusyTime
from jobs.calendars.occurrences import Time
from studio.errors import DomainError
from studio.history.operations import record
from studio.people.models import Person
from studio.profile.models import StudioProfile

MOST_BYTES: Final = 4 * 1_048_576
MOST_CALENDARS: Final = 10
LONGEST_S: Final = 20
BACK: Final = timedelta(days=1)
AHEAD: Final = timedelta(days=400)
READ_EVERY: Final = timedelta(hours=1)
AFTER_A_FAULT: Final = timedelta(hours=3)

Fetch = Callable[[str], bytes]


class UnreadableCalendarError(DomainError):
    """A calendar cannot be read; the reason is fit to show."""


def read_times(content: bytes, *, at: datetime) -> list[Time]:
    """Return when a calendar's owner is busy from yesterday on, for 400 days.

    The calendar is worked through in a process of its own, ended after twenty seconds.
    Raises UnreadableCalendarError.
    """
    if len(content) > MOST_BYTES:
        raise UnreadableCalendarError("The calendar is larger than 4 MB.")
    asked = {
        "since": (at - BACK).isoformat(),
        "until": (at + AHEAD).isoformat(),
        "zone": StudioProfile.load().time_zone,
    }
    try:
        done = subprocess.run(
            [sys.executable, "-m", "jobs.calendars.occurrences"],
            input=json.dumps(asked).encode() + b"\n" + content,
            capture_output=True,
            cwd=settings.BASE_DIR,
            timeout=LONGEST_S,
            check=True,
        )
    except subprocess.TimeoutExpired as fault:
        raise UnreadableCalendarError(
            "The calendar repeats itself so often that it cannot be worked through."
        ) from fault
    except subprocess.CalledProcessError as fault:
        raise UnreadableCalendarError("The calendar cannot be read.") from fault
    answer: dict[str, Any] = json.loads(done.stdout)
    if "fault" in answer:
        raise UnreadableCalendarError(answer["fault"])
    return [
        (datetime.fromisoformat(start), datetime.fromisoformat(end))
        for start, end in answer["times"]
    ]


def take_file(
    *, person: Person, name: str, content: bytes, at: datetime
) -> BusyCalendar:
    """Keep when a person is busy by a file; one of the same name is replaced.

    Raises UnreadableCalendarError.
    """
    times = read_times(content, at=at)
    with transaction.atomic():
        same = person.busy_calendars.filter(name=name, address="").first()
        calendar = same or BusyCalendar(person=person, name=name, read_next_at=at)
        _refuse_more(calendar)
        calendar.read_at = at
        calendar.save()
        _keep(calendar, times)
        record(calendar, "read", by=person, at=at, data={"times": len(times)})
    return calendar


def follow_address(
    *, person: Person, name: str, address: str, at: datetime, get: Fetch = fetch
) -> BusyCalendar:
    """Keep when a person is busy by an address, which is read again every hour.

    Raises FetchError and UnreadableCalendarError, keeping nothing.
    """
    check_address(address)
    times = read_times(get(address), at=at)
    with transaction.atomic():
        same = person.busy_calendars.filter(address=address).first()
        calendar = same or BusyCalendar(person=person, address=address)
        calendar.name = name
        calendar.read_at, calendar.read_next_at = at, at + READ_EVERY
        calendar.fault, calendar.failing_since = "", None
        _refuse_more(calendar)
        calendar.save()
        _keep(calendar, times)
        record(calendar, "followed", by=person, at=at, data={"times": len(times)})
    return calendar


def read_again(*, calendar_id: int, at: datetime, get: Fetch = fetch) -> BusyCalendar:
    """Read a followed calendar again; a fault is noted, and what was known stays."""
    calendar = BusyCalendar.objects.get(pk=calendar_id)
    try:
        times = read_times(get(calendar.address), at=at)
    except (FetchError, UnreadableCalendarError) as refusal:
        calendar.fault = str(refusal)[:300]
        calendar.failing_since = calendar.failing_since or at
        calendar.read_next_at = at + AFTER_A_FAULT
        _note(calendar, "fault", "failing_since", "read_next_at")
        return calendar
    with transaction.atomic():
        calendar.fault, calendar.failing_since = "", None
        calendar.read_at, calendar.read_next_at = at, at + READ_EVERY
        if _note(calendar, "fault", "failing_since", "read_at", "read_next_at"):
            _keep(calendar, times)
    return calendar


@transaction.atomic
def drop_calendar(*, calendar_id: int, person: Person, at: datetime) -> None:
    """Forget a calendar and the busy times that came of it."""
    calendar = person.busy_calendars.get(pk=calendar_id)
    record(calendar, "dropped", by=person, at=at)
    calendar.delete()


def _refuse_more(calendar: BusyCalendar) -> None:
    others = calendar.person.busy_calendars.exclude(pk=calendar.pk).count()
    if others >= MOST_CALENDARS:
        raise UnreadableCalendarError(
            f"More than {MOST_CALENDARS} calendars are not kept. Drop one first."
        )


def _note(calendar: BusyCalendar, *fields: str) -> bool:
    """Write fields down if the calendar was not dropped meanwhile; say whether."""
    values = {name: getattr(calendar, name) for name in fields}
    return BusyCalendar.objects.filter(pk=calendar.pk).update(**values) == 1


def _keep(calendar: BusyCalendar, times: list[Time]) -> None:
    calendar.times.all().delete()
    BusyTime.objects.bulk_create(
        [
            BusyTime(
                calendar=calendar,
                person_id=calendar.person_id,
                starts_at=start,
                ends_at=end,
            )
            for start, end in times
        ],
        batch_size=500,
    )
