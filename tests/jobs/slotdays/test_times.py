"""The times of sittings within a session."""

from __future__ import annotations

from datetime import timedelta
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jobs.slotdays.times import times_of
from studio.timespan import TimeSpan
from tests.make import NOON

START = NOON + timedelta(days=10)
TEN = timedelta(minutes=10)


def starts(spans: list[TimeSpan]) -> list[int]:
    return [int((span.start - START).total_seconds() / 60) for span in spans]


def test_times_follow_one_another_and_leave_a_break_out() -> None:
    span = TimeSpan(START, START + timedelta(hours=2))
    pause = TimeSpan(START + timedelta(minutes=35), START + timedelta(minutes=60))

    # By hand: 0-20, 30-50 runs into the break, so 60-80, 90-110; 120 is the end.
    found = times_of(span, length=2 * TEN, gap=TEN, pauses=[pause])

    assert starts(found) == [0, 60, 90]


@given(
    length=st.integers(3, 90),
    gap=st.integers(0, 30),
    first=st.integers(0, 200),
    lasts=st.integers(1, 120),
)
def test_times_lie_within_touch_no_break_and_keep_their_gap(
    length: int, gap: int, first: int, lasts: int
) -> None:
    span = TimeSpan(START, START + timedelta(minutes=240))
    pause = TimeSpan(
        START + timedelta(minutes=first), START + timedelta(minutes=first + lasts)
    )

    found = times_of(
        span,
        length=timedelta(minutes=length),
        gap=timedelta(minutes=gap),
        pauses=[pause],
    )

    assert all(span.contains(one) and not one.overlaps(pause) for one in found)
    for early, late in pairwise(found):
        waits = late.start == pause.end and early.end <= pause.start
        assert waits or late.start - early.end >= timedelta(minutes=gap)
    assert all(one.duration == timedelta(minutes=length) for one in found)


@pytest.mark.parametrize(("length", "gap"), [(timedelta(), TEN), (TEN, -TEN)])
def test_sittings_without_length_are_a_mistake(
    length: timedelta, gap: timedelta
) -> None:
    with pytest.raises(ValueError, match="no sittings"):
        times_of(TimeSpan(START, START + TEN), length=length, gap=gap)
