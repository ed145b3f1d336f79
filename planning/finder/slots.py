"""Sessions that might be: every start, what it gets of the light, and which is best."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Final

import numpy as np

from jobs.kits.either import one_for_each
from planning.finder.grid import Grid, Minutes, day_of
from planning.finder.wanted import Mask
from planning.finder.wishes import DAY_MIN, Wish
from planning.light.moments import EPOCH
from studio.timespan import TimeSpan

START_STEP_MIN: Final = 15
MOST_MARGIN_MIN: Final = 30
ROUNDS: Final = 2
"""How many slots of one day are offered at most."""
_THURSDAY: Final = 3  # 1970-01-01, the day that counting starts from
Taken = Mapping[str, Sequence[TimeSpan]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Starts:
    """Starts on quarter hours, each with its minute, its day, and where it ends."""

    at: Minutes
    day: Minutes
    stop: Minutes
    in_hours: Mask
    in_access: Mask


def starts_of(wish: Wish, grid: Grid) -> Starts:
    """Return every start on the days asked for that is not over yet.

    Hours that run past midnight belong to the day on which they start.
    """
    hours = wish.hours
    first = -grid.first_minute % START_STEP_MIN
    at = np.arange(first, grid.size - wish.minutes, START_STEP_MIN)
    stop = at + wish.minutes
    start_clock, stop_clock = grid.clock[at], grid.clock[stop]
    day = (start_clock - hours.from_minute) // DAY_MIN
    opens = day * DAY_MIN + hours.from_minute
    first_day = day_of(hours.first_on)
    asked = (day >= first_day) & (day < first_day + hours.days)
    asked &= np.isin((day + _THURSDAY) % 7, list(hours.weekdays))
    asked &= at >= grid.index(wish.not_before)
    return Starts(
        at=at[asked],
        day=day[asked],
        stop=stop[asked],
        in_hours=(stop_clock <= opens + hours.width_minutes)[asked],
        in_access=_in_access(wish, start_clock, stop_clock)[asked],
    )


def _in_access(wish: Wish, start_clock: Minutes, stop_clock: Minutes) -> Mask:
    """Say which sessions, setting up and packing included, lie while one can get in."""
    midnight = start_clock // DAY_MIN * DAY_MIN
    inside = np.ones(start_clock.size, dtype=np.bool_)
    if opens := wish.hours.access_from:
        opens_at = midnight + opens.hour * 60 + opens.minute
        inside &= start_clock - wish.before_minutes >= opens_at
    if closes := wish.hours.access_until:
        closes_at = midnight + closes.hour * 60 + closes.minute
        inside &= stop_clock + wish.after_minutes <= closes_at
    return inside


def lit_minutes(lit: Mask, minutes: int) -> Minutes:
    """Return for each minute how many of those that follow are lit, in one session."""
    summed = np.concatenate([[0], np.cumsum(lit)])
    counted: Minutes = summed[minutes:] - summed[:-minutes]
    return counted


def margins(enough: Mask) -> Minutes:
    """Return how many minutes later a session could start, each with enough light."""
    index = np.arange(enough.size)
    ends = np.where(enough, enough.size, index)
    next_end = np.minimum.accumulate(ends[::-1])[::-1]
    return np.maximum(next_end - index - 1, 0)


def is_free(starts: Starts, grid: Grid, wish: Wish, spans: Sequence[TimeSpan]) -> Mask:
    """Say which starts keep clear of some spans, setting up and packing included."""
    if not spans:
        return np.ones(starts.at.size, dtype=np.bool_)
    begins, ends = _merged(spans)
    base = (grid.first_minute + starts.at).astype(np.float64)
    from_minute = base - wish.before_minutes
    to_minute = base + wish.minutes + wish.after_minutes
    begun = np.searchsorted(begins, to_minute, side="left")
    over = np.searchsorted(ends, from_minute, side="right")
    free: Mask = begun <= over
    return free


def position_name(position: Taken) -> str:
    """Return the one word for a position that any of some things fills."""
    return "|".join(position)


def each_is_filled(
    starts: Starts, grid: Grid, wish: Wish, one_of: Sequence[Taken]
) -> Mask:
    """Say which starts find a different thing free for each position of several."""
    names = list(dict.fromkeys(name for position in one_of for name in position))
    if not names or not starts.at.size:
        return np.ones(starts.at.size, dtype=np.bool_)
    spans = {name: held for position in one_of for name, held in position.items()}
    free = np.stack([is_free(starts, grid, wish, spans[name]) for name in names])
    patterns, which = np.unique(free, axis=1, return_inverse=True)
    filled = [_fills(dict(zip(names, one, strict=True)), one_of) for one in patterns.T]
    found: Mask = np.array(filled, dtype=np.bool_)[which.reshape(-1)]
    return found


def _fills(free: Mapping[str, bool], one_of: Sequence[Taken]) -> bool:
    left = [[name for name in position if free[name]] for position in one_of]
    return None not in one_for_each(left)


def best_of_each_day(
    days: Minutes, score: Minutes, at: Minutes, minutes: int
) -> Minutes:
    """Return which starts to offer: the best of each day first, then second ones.

    Of two with one score the earlier is better. A second one of a day shares no minute
    with its first.
    """
    order = np.lexsort((at, -score))
    left, offered = order, []
    for _ in range(ROUNDS):
        _, firsts = np.unique(days[left], return_index=True)
        chosen = left[np.sort(firsts)]
        offered.append(chosen)
        taken = dict(zip(days[chosen].tolist(), at[chosen].tolist(), strict=True))
        first_at = np.array([taken[day] for day in days[left].tolist()], dtype=np.int64)
        left = left[np.abs(at[left] - first_at) >= minutes]
    return np.concatenate(offered)


def _merged(spans: Sequence[TimeSpan]) -> tuple[Sequence[float], Sequence[float]]:
    """Return where taken time begins and ends, in minutes, nothing overlapping."""
    begins: list[float] = []
    ends: list[float] = []
    for span in sorted(spans):
        begin, end = _minutes(span.start), _minutes(span.end)
        if ends and begin <= ends[-1]:
            ends[-1] = max(ends[-1], end)
        else:
            begins.append(begin)
            ends.append(end)
    return begins, ends


def _minutes(at: datetime) -> float:
    return (at - EPOCH) / timedelta(minutes=1)
