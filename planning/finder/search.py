"""The search: what is left of all starts after each condition, best first."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from enum import Enum
from functools import cached_property
from typing import Final

import numpy as np

from jobs.kits.either import one_for_each
from planning.finder.grid import (
    Grid,
    Minutes,
    SunTrack,
    date_of,
    day_of,
    grid_of,
    sun_of,
)
from planning.finder.slots import (
    MOST_MARGIN_MIN,
    Starts,
    Taken,
    best_of_each_day,
    each_is_filled,
    is_free,
    lit_minutes,
    margins,
    position_name,
    starts_of,
)
from planning.finder.wanted import Hurdle, Mask, hurdles
from planning.finder.wishes import DAY_MIN, Hours, Wish
from planning.shoots.daylight import Where
from studio.timespan import TimeSpan

LONGEST_GAP_DAYS: Final = 7


class Step(Enum):
    """What a day has to pass, in order; the value says what is left after it."""

    ASKED = "asked for"
    HEIGHT = "with the sun at that height"
    REACH = "with that light at this place"
    SIDE = "with it on that side"
    HOURS = "within your hours"
    ACCESS = "while the place is open"
    FREE = "with all free"


LIGHT_STEPS = {
    Hurdle.HEIGHT: Step.HEIGHT,
    Hurdle.REACH: Step.REACH,
    Hurdle.SIDE: Step.SIDE,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Left:
    """On how many days a session is still possible after a step.

    `runs` are their first and last dates, wherever more than a week lies between.
    """

    step: Step
    days: int
    runs: tuple[tuple[date, date], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Slot:
    """A session that could be: its time, and what it gets of the light.

    `lit_from` and `lit_until` bound the wanted light within it; `margin_minutes` is by
    how much its start may slip. The sun is that of the middle of its light.
    """

    start_at: datetime
    end_at: datetime
    on: date
    lit_minutes: int
    lit_from: datetime
    lit_until: datetime
    margin_minutes: int
    first_altitude_deg: float
    last_altitude_deg: float
    azimuth_deg: float
    next_altitude_deg: float
    next_azimuth_deg: float
    """Where the sun stands at the first minute without that light."""


class Search:
    """One search and what came of it; `taken` names what is held when.

    All of `taken` has to be free, and of each of `one_of` a different thing.
    """

    def __init__(
        self, wish: Wish, where: Where, taken: Taken, one_of: Sequence[Taken] = ()
    ) -> None:
        self.wish, self.where = wish, where
        self.taken, self.one_of = taken, one_of
        hours = wish.hours
        beyond = wish.minutes + DAY_MIN
        self.grid: Grid = grid_of(where.zone, hours.first_on, hours.days, beyond=beyond)
        self.sun: SunTrack = sun_of(self.grid, where.latitude_deg, where.longitude_deg)
        self.starts: Starts = starts_of(wish, self.grid)
        self.left: list[Left] = [Left(step=Step.ASKED, days=days_asked(hours))]
        self.lit: Mask = np.zeros(self.grid.size, dtype=np.bool_)
        self.enough: Mask = self.lit
        self.unheld: Mask = self.lit
        self.passed: Mask = self._possible()
        self.ranked: Minutes = self._rank(self.passed)

    @property
    def count(self) -> int:
        """How many slots are offered."""
        return int(self.ranked.size)

    def slots(self, first: int, most: int) -> list[Slot]:
        """Return some of the offered slots, counted from the best."""
        return [self._slot(int(one)) for one in self.ranked[first : first + most]]

    def by_date(self) -> None:
        """Offer what was found in order of time instead."""
        self.ranked = np.sort(self.ranked)

    def chosen(self, slot: Slot) -> list[str]:
        """Return what goes out for each position of several, the first that is free."""
        start = slot.start_at - timedelta(minutes=self.wish.before_minutes)
        end = slot.end_at + timedelta(minutes=self.wish.after_minutes)
        span = TimeSpan(start, end)
        free = [
            [name for name in one if not any(span.overlaps(held) for held in one[name])]
            for one in self.one_of
        ]
        return [name for name in one_for_each(free) if name is not None]

    @cached_property
    def lost_to(self) -> dict[str, int]:
        """On how many days each held thing, or position, alone leaves no session."""
        whole = self._days_of(self.unheld)
        lost = {
            name: whole - self._days_of(self.unheld & self._free_of(spans))
            for name, spans in self.taken.items()
        }
        for position in self.one_of:
            filled = self.unheld & self._filled([position])
            lost[position_name(position)] = whole - self._days_of(filled)
        return {name: days for name, days in lost.items() if days}

    def _days_of(self, passed: Mask) -> int:
        return int(np.unique(self.starts.day[passed]).size)

    def _free_of(self, spans: Sequence[TimeSpan]) -> Mask:
        return is_free(self.starts, self.grid, self.wish, spans)

    def _filled(self, one_of: Sequence[Taken]) -> Mask:
        return each_is_filled(self.starts, self.grid, self.wish, one_of)

    def _possible(self) -> Mask:
        """Return which starts pass every step, noting what each leaves."""
        starts = self.starts
        passed = np.zeros(starts.at.size, dtype=np.bool_)
        for hurdle, lit in hurdles(self.wish, self.where, self.grid, self.sun):
            self.lit = lit
            self.enough = (
                lit_minutes(lit, self.wish.minutes) >= self.wish.needed_minutes
            )
            passed = self.enough[starts.at]
            self._note(LIGHT_STEPS[hurdle], passed)
        passed = passed & starts.in_hours
        self._note(Step.HOURS, passed)
        passed = passed & starts.in_access
        self._note(Step.ACCESS, passed)
        self.unheld = passed
        for spans in self.taken.values():
            passed = passed & self._free_of(spans)
        passed = passed & self._filled(self.one_of)
        self._note(Step.FREE, passed)
        return passed

    def _note(self, step: Step, passed: Mask) -> None:
        days = np.unique(self.starts.day[passed])
        parts = np.split(days, np.flatnonzero(np.diff(days) > LONGEST_GAP_DAYS) + 1)
        runs = tuple((date_of(one[0]), date_of(one[-1])) for one in parts if one.size)
        self.left.append(Left(step=step, days=int(days.size), runs=runs))

    def _rank(self, passed: Mask) -> Minutes:
        """Return the possible starts, best first: a point for each minute of light,
        half a point for each minute, up to 30, by which the start may slip."""
        which = np.flatnonzero(passed)
        if not which.size:
            return which
        at = self.starts.at[which]
        lit = lit_minutes(self.lit, self.wish.minutes)[at]
        spare = np.minimum(self._margins[at], MOST_MARGIN_MIN)
        days = self.starts.day[which]
        best = best_of_each_day(days, 2 * lit + spare, at, self.wish.minutes)
        return which[best]

    @cached_property
    def _margins(self) -> Minutes:
        return margins(self.enough)

    def _slot(self, which: int) -> Slot:
        start, stop = int(self.starts.at[which]), int(self.starts.stop[which])
        lit = np.flatnonzero(self.lit[start:stop]) + start
        first, last = int(lit[0]), int(lit[-1])
        middle = int(lit[lit.size // 2])
        grid, sun = self.grid, self.sun
        return Slot(
            start_at=grid.instant(start),
            end_at=grid.instant(stop),
            on=date_of(self.starts.day[which]),
            lit_minutes=int(lit.size),
            lit_from=grid.instant(first),
            lit_until=grid.instant(last + 1),
            margin_minutes=int(self._margins[start]),
            first_altitude_deg=float(sun.altitude_deg[first]),
            last_altitude_deg=float(sun.altitude_deg[last]),
            azimuth_deg=float(sun.azimuth_deg[middle]),
            next_altitude_deg=float(sun.altitude_deg[last + 1]),
            next_azimuth_deg=float(sun.azimuth_deg[last + 1]),
        )


def days_asked(hours: Hours) -> int:
    """Return how many days of the wanted kind a span of dates has."""
    return sum(1 for _ in _dates(hours))


def _dates(hours: Hours) -> Iterator[date]:
    first = day_of(hours.first_on)
    for day in range(first, first + hours.days):
        on = date_of(day)
        if on.weekday() in hours.weekdays:
            yield on
