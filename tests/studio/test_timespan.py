"""Spans of time."""

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from studio.timespan import TimeSpan, clock_words

LONDON = ZoneInfo("Europe/London")


def at(hour: int, minute: int = 0) -> datetime:
    return datetime(2026, 6, 21, hour, minute, tzinfo=UTC)


MORNING = TimeSpan(at(9), at(12))


@pytest.mark.parametrize(
    ("start", "end", "shared"),
    [
        (at(12), at(13), None),
        (at(8), at(9), None),
        (at(11), at(13), TimeSpan(at(11), at(12))),
        (at(8), at(10), TimeSpan(at(9), at(10))),
        (at(10), at(11), TimeSpan(at(10), at(11))),
        (at(8), at(13), MORNING),
        (at(9), at(12), MORNING),
    ],
)
def test_spans_overlap_when_they_share_time(
    start: datetime, end: datetime, shared: TimeSpan | None
) -> None:
    other = TimeSpan(start, end)

    assert MORNING.intersection(other) == other.intersection(MORNING) == shared
    assert MORNING.overlaps(other) == other.overlaps(MORNING) == (shared is not None)


def test_a_span_contains_its_start_but_not_its_end() -> None:
    assert MORNING.contains(at(9))
    assert MORNING.contains(at(11, 59))
    assert not MORNING.contains(at(12))
    assert not MORNING.contains(at(8, 59))
    assert MORNING.contains(datetime(2026, 6, 21, 10, tzinfo=LONDON))
    assert not MORNING.contains(datetime(2026, 6, 21, 9, 30, tzinfo=LONDON))


def test_a_span_contains_a_span_that_ends_with_it() -> None:
    assert MORNING.contains(MORNING)
    assert MORNING.contains(TimeSpan(at(10), at(12)))
    assert not MORNING.contains(TimeSpan(at(8), at(10)))
    assert not MORNING.contains(TimeSpan(at(10), at(13)))


def test_a_span_is_kept_in_utc() -> None:
    summer = TimeSpan(
        datetime(2026, 6, 21, 10, tzinfo=LONDON),
        datetime(2026, 6, 21, 13, tzinfo=LONDON),
    )

    assert summer == MORNING
    assert hash(summer) == hash(MORNING)
    assert summer.start.tzinfo is summer.end.tzinfo is UTC
    assert str(summer) == "2026-06-21T09:00:00+00:00/2026-06-21T12:00:00+00:00"


def test_the_duration_is_what_passes_while_the_clocks_change() -> None:
    # British clocks go back at 02:00 on 25 October 2026: the night has an hour more.
    night = TimeSpan(
        datetime(2026, 10, 24, 22, tzinfo=LONDON),
        datetime(2026, 10, 25, 6, tzinfo=LONDON),
    )

    assert night.duration == timedelta(hours=9)


def test_the_hour_that_comes_twice_is_a_span() -> None:
    first = datetime(2026, 10, 25, 1, 30, tzinfo=LONDON)

    span = TimeSpan(first, first.replace(fold=1))

    assert span.duration == timedelta(hours=1)


def test_a_span_is_shifted_as_a_whole() -> None:
    later = MORNING.shifted(timedelta(minutes=90))

    assert later == TimeSpan(at(10, 30), at(13, 30))
    assert later.shifted(timedelta(minutes=-90)) == MORNING


def test_spans_sort_by_start_then_end() -> None:
    spans = [TimeSpan(at(10), at(11)), MORNING, TimeSpan(at(9), at(10))]

    assert sorted(spans) == [TimeSpan(at(9), at(10)), MORNING, TimeSpan(at(10), at(11))]


@pytest.mark.parametrize("end", [at(9), at(8)])
def test_a_span_must_end_after_it_starts(end: datetime) -> None:
    with pytest.raises(ValueError, match=f"09:00.* to .*{end:%H}:00"):
        TimeSpan(at(9), end)


def test_naive_datetimes_are_refused() -> None:
    naive = datetime(2026, 6, 21, 10)  # noqa: DTZ001 - naive is the point here

    for start, end in ((naive, at(12)), (at(9), naive)):
        with pytest.raises(ValueError, match="aware"):
            TimeSpan(start, end)
    with pytest.raises(ValueError, match="2026, 6, 21, 10"):
        MORNING.contains(naive)


@pytest.mark.parametrize(
    ("moment", "words"),
    [
        (datetime(2027, 10, 30, 23, 30, tzinfo=UTC), "00:30"),
        (datetime(2027, 10, 31, 0, 30, tzinfo=UTC), "01:30 BST"),
        (datetime(2027, 10, 31, 1, 30, tzinfo=UTC), "01:30 GMT"),
        (datetime(2027, 10, 31, 2, 0, tzinfo=UTC), "02:00"),
        (datetime(2027, 3, 28, 1, 30, tzinfo=UTC), "02:30"),
    ],
)
def test_a_time_that_comes_twice_names_its_zone(moment: datetime, words: str) -> None:
    # The UK's clocks go back at 01:00 UTC on the last Sunday of October and forward
    # at 01:00 UTC on the last of March: Summer Time Act 1972 as amended in 2002.
    assert clock_words(moment.astimezone(LONDON)) == words
