"""When the owner of a calendar is busy: a program of its own, kept under limits.

Run with a line of JSON (`since`, `until`, `zone`) and the calendar on its input, it
writes what it found as JSON. It imports nothing of the studio, so that a calendar made
to use up time or memory ends this process and nothing else.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Iterator
from datetime import UTC, date, datetime, time, timedelta
from typing import Any, Final
from zoneinfo import ZoneInfo

from icalendar import Calendar, Component
from recurring_ical_events import of

MOST_COMPONENTS: Final = 10_000
MOST_TIMES: Final = 4_000
MEMORY: Final = 768 * 1_048_576
LONGEST: Final = timedelta(days=14)

Time = tuple[datetime, datetime]


class CalendarTooLargeError(Exception):
    """A calendar holds more than is worked through; the reason is fit to show."""


def busy_times(
    content: bytes, *, since: datetime, until: datetime, zone: ZoneInfo
) -> list[Time]:
    """Return when the calendar's owner is busy between two moments, in UTC.

    Times that overlap or touch are one; one longer than 14 days is told in pieces.
    Days, and clock times without a zone, are read by `zone`. What is marked as free or
    cancelled does not count. Raises ValueError where the content is no calendar.
    """
    found: list[Time] = []
    for calendar in Calendar.from_ical(content, multiple=True):
        if len(list(calendar.walk())) > MOST_COMPONENTS:
            raise CalendarTooLargeError(
                f"The calendar holds more than {MOST_COMPONENTS:,} entries."
            )
        found += _events(calendar, since, until, zone)
        found += _periods(calendar, zone)
    clipped = [(max(start, since), min(end, until)) for start, end in found]
    times = list(_pieces(_merged([one for one in clipped if one[0] < one[1]])))
    if len(times) > MOST_TIMES:
        raise CalendarTooLargeError(
            f"The calendar holds more than {MOST_TIMES:,} busy times."
        )
    return times


def _events(
    calendar: Component, since: datetime, until: datetime, zone: ZoneInfo
) -> Iterator[Time]:
    occurring = of(calendar, skip_bad_series=True).between(since, until)
    for event in occurring:
        if _is_free(event):
            continue
        start = event["DTSTART"].dt
        end = event["DTEND"].dt if "DTEND" in event else start
        if not isinstance(start, datetime) and end <= start:
            end = start + timedelta(days=1)
        yield _moment(start, zone), _moment(end, zone)


def _is_free(event: Component) -> bool:
    words = {
        name: str(event.get(name, "")).upper()
        for name in ("STATUS", "TRANSP", "X-MICROSOFT-CDO-BUSYSTATUS")
    }
    return (
        words["STATUS"] == "CANCELLED"
        or words["TRANSP"] == "TRANSPARENT"
        or words["X-MICROSOFT-CDO-BUSYSTATUS"] == "FREE"
    )


def _periods(calendar: Component, zone: ZoneInfo) -> Iterator[Time]:
    """Give the times of free-and-busy parts (RFC 5545, 3.6.4)."""
    for part in calendar.walk("VFREEBUSY"):
        rows = part.get("FREEBUSY", [])
        for row in rows if isinstance(rows, list) else [rows]:
            if str(row.params.get("FBTYPE", "BUSY")).upper() == "FREE":
                continue
            for period in getattr(row, "dts", [row]):
                start, end = (period.dt if hasattr(period, "dt") else period)[:2]
                if isinstance(end, timedelta):
                    end = start + end
                yield _moment(start, zone), _moment(end, zone)


def _moment(at: date | datetime, zone: ZoneInfo) -> datetime:
    if not isinstance(at, datetime):
        at = datetime.combine(at, time(), tzinfo=zone)
    elif at.tzinfo is None:
        at = at.replace(tzinfo=zone)
    return at.astimezone(UTC)


def _merged(times: list[Time]) -> Iterator[Time]:
    """Give times in order, those that overlap or touch as one."""
    running: Time | None = None
    for start, end in sorted(times):
        if running and start <= running[1]:
            running = running[0], max(running[1], end)
            continue
        if running:
            yield running
        running = start, end
    if running:
        yield running


def _pieces(times: Iterator[Time]) -> Iterator[Time]:
    for begin, end in times:
        start = begin
        while end - start > LONGEST:
            yield start, start + LONGEST
            start += LONGEST
        yield start, end


def _answer() -> dict[str, Any]:
    asked = json.loads(sys.stdin.buffer.readline())
    try:
        times = busy_times(
            sys.stdin.buffer.read(),
            since=datetime.fromisoformat(asked["since"]),
            until=datetime.fromisoformat(asked["until"]),
            zone=ZoneInfo(asked["zone"]),
        )
    except CalendarTooLargeError as refusal:
        return {"fault": str(refusal)}
    except Exception:  # noqa: BLE001 - whatever the reader trips over is no calendar
        return {"fault": "The file is no calendar that can be read (.ics)."}
    return {"times": [(start.isoformat(), end.isoformat()) for start, end in times]}


def _limit_memory() -> None:
    if sys.platform != "win32":
        import resource  # noqa: PLC0415 - not there on every system

        resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))


if __name__ == "__main__":
    _limit_memory()
    json.dump(_answer(), sys.stdout)
