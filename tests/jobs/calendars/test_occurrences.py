"""Busy times out of calendars; each expected time is worked out by hand."""

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from jobs.calendars.occurrences import CalendarTooLargeError, busy_times

LONDON = ZoneInfo("Europe/London")
SINCE = datetime(2026, 6, 1, tzinfo=UTC)
UNTIL = datetime(2027, 6, 1, tzinfo=UTC)


def calendar(*lines: str) -> bytes:
    whole = ["BEGIN:VCALENDAR", "VERSION:2.0", "PRODID:-//x//y//EN", *lines]
    return "\r\n".join([*whole, "END:VCALENDAR", ""]).encode()


def event(*lines: str) -> bytes:
    return calendar(*event_lines(*lines))


def event_lines(*lines: str, uid: str = "1@x.example") -> list[str]:
    stamp = "DTSTAMP:20260101T000000Z"
    return ["BEGIN:VEVENT", f"UID:{uid}", stamp, *lines, "END:VEVENT"]


def times(content: bytes) -> list[str]:
    found = busy_times(content, since=SINCE, until=UNTIL, zone=LONDON)
    return [f"{start:%d %b %H:%M}/{end:%d %b %H:%M}" for start, end in found]


def test_a_time_in_utc_is_taken_as_it_is() -> None:
    content = event("DTSTART:20260610T090000Z", "DTEND:20260610T100000Z")

    assert times(content) == ["10 Jun 09:00/10 Jun 10:00"]


def test_a_zones_clock_is_followed_over_the_change() -> None:
    # Weekly at 18:00 in London: 17:00 UTC until 25 October 2026, 18:00 UTC after it.
    content = event(
        "DTSTART;TZID=Europe/London:20261018T180000",
        "DTEND;TZID=Europe/London:20261018T190000",
        "RRULE:FREQ=WEEKLY;COUNT=3",
    )

    assert times(content) == [
        "18 Oct 17:00/18 Oct 18:00",
        "25 Oct 18:00/25 Oct 19:00",
        "01 Nov 18:00/01 Nov 19:00",
    ]


def test_days_and_clocks_without_a_zone_are_the_studios_own() -> None:
    day = event("DTSTART;VALUE=DATE:20260701", "DTEND;VALUE=DATE:20260703")
    clock = event("DTSTART:20260701T090000", "DURATION:PT90M")
    one_day = event("DTSTART;VALUE=DATE:20260701")

    assert times(day) == ["30 Jun 23:00/02 Jul 23:00"]
    assert times(clock) == ["01 Jul 08:00/01 Jul 09:30"]
    assert times(one_day) == ["30 Jun 23:00/01 Jul 23:00"]


def test_exceptions_and_moved_occurrences_are_followed() -> None:
    # Monday, Tuesday, Wednesday; Tuesday falls out, Wednesday is moved to the evening.
    moved = event_lines(
        "RECURRENCE-ID:20260617T090000Z",
        "DTSTART:20260617T180000Z",
        "DTEND:20260617T190000Z",
    )
    content = calendar(
        *event_lines(
            "DTSTART:20260615T090000Z",
            "DTEND:20260615T100000Z",
            "RRULE:FREQ=DAILY;COUNT=3",
            "EXDATE:20260616T090000Z",
        ),
        *moved,
    )

    assert times(content) == ["15 Jun 09:00/15 Jun 10:00", "17 Jun 18:00/17 Jun 19:00"]


@pytest.mark.parametrize(
    "line",
    ["STATUS:CANCELLED", "TRANSP:TRANSPARENT", "X-MICROSOFT-CDO-BUSYSTATUS:FREE"],
)
def test_what_is_free_or_cancelled_does_not_count(line: str) -> None:
    content = event("DTSTART:20260610T090000Z", "DTEND:20260610T100000Z", line)

    assert times(content) == []


def test_free_and_busy_parts_are_read() -> None:
    # As in RFC 5545, 3.6.4: periods by end and by duration; one that is marked free.
    content = calendar(
        "BEGIN:VFREEBUSY",
        "UID:2@x.example",
        "DTSTAMP:20260101T000000Z",
        "FREEBUSY:20260614T233000Z/20260615T003000Z,20260616T090000Z/PT2H",
        "FREEBUSY;FBTYPE=FREE:20260617T090000Z/PT2H",
        "END:VFREEBUSY",
    )

    assert times(content) == ["14 Jun 23:30/15 Jun 00:30", "16 Jun 09:00/16 Jun 11:00"]


def test_times_that_touch_are_one_and_a_long_one_is_told_in_pieces() -> None:
    both = calendar(
        *event_lines("DTSTART:20260610T090000Z", "DTEND:20260610T100000Z"),
        *event_lines(
            "DTSTART:20260610T100000Z", "DTEND:20260610T113000Z", uid="2@x.example"
        ),
    )
    long = event("DTSTART;VALUE=DATE:20260701", "DTEND;VALUE=DATE:20260801")

    assert times(both) == ["10 Jun 09:00/10 Jun 11:30"]
    assert times(long) == [
        "30 Jun 23:00/14 Jul 23:00",
        "14 Jul 23:00/28 Jul 23:00",
        "28 Jul 23:00/31 Jul 23:00",
    ]


def test_what_lies_outside_is_left_and_what_reaches_in_is_cut() -> None:
    content = calendar(
        *event_lines("DTSTART:20250610T090000Z", "DTEND:20250610T100000Z"),
        *event_lines(
            "DTSTART:20260531T220000Z", "DTEND:20260601T030000Z", uid="2@x.example"
        ),
    )

    assert times(content) == ["01 Jun 00:00/01 Jun 03:00"]


def test_too_many_times_are_refused() -> None:
    content = event(
        "DTSTART:20260610T090000Z", "DURATION:PT1M", "RRULE:FREQ=HOURLY;COUNT=5000"
    )

    with pytest.raises(CalendarTooLargeError, match="4,000 busy times"):
        busy_times(content, since=SINCE, until=UNTIL, zone=LONDON)


@pytest.mark.parametrize("content", [b"", b"<html>no</html>", b"\xff\xfe\x00", b"A:B"])
def test_what_is_no_calendar_is_refused_or_empty(content: bytes) -> None:
    try:
        found = busy_times(content, since=SINCE, until=UNTIL, zone=LONDON)
    except (ValueError, LookupError):
        return
    assert found == []


def test_no_time_is_longer_than_the_search_for_overlaps_allows() -> None:
    long = event("DTSTART;VALUE=DATE:20260601", "DTEND;VALUE=DATE:20270601")

    found = busy_times(long, since=SINCE, until=UNTIL, zone=LONDON)

    assert max(end - start for start, end in found) == timedelta(days=14)
    assert found[0][0] == SINCE
