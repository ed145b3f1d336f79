"""When the sun reaches a place through a day, and when something stands before it.

A skyline judged by eye makes each edge a span: from the first minute at which the sun
may be gone to the last at which it may still shine.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from enum import IntEnum
from itertools import groupby


class Shines(IntEnum):
    """Whether the sun reaches the place at a minute, clouds apart."""

    NO = 0
    MAYBE = 1
    YES = 2


@dataclass(frozen=True, slots=True, kw_only=True)
class Stage:
    """One minute of the day: whether the sun shines, and what may stand before it."""

    at: datetime
    shines: Shines
    behind: str = ""
    estimated: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Edge:
    """A moment known as a span: the sun goes, or comes."""

    earliest_at: datetime
    latest_at: datetime

    @property
    def is_sharp(self) -> bool:
        """Whether both ends fall into one minute, or into two that touch."""
        return self.latest_at - self.earliest_at <= timedelta(minutes=1)


@dataclass(frozen=True, slots=True, kw_only=True)
class Gap:
    """The sun behind something between two times at which it shines.

    `is_certain` is false where it may as well pass just above.
    """

    goes: Edge
    comes: Edge
    behind: str
    estimated: bool
    is_certain: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Arrival:
    """When the sun first reaches the place: from behind what, and how surely."""

    edge: Edge
    behind: str
    estimated: bool


def arrival(stages: Sequence[Stage]) -> Arrival | None:
    """Return when the sun first shines; None where it surely does at no minute."""
    first = _first(stages, Shines.YES)
    if first is None:
        return None
    before = stages[:first]
    hidden = [one for one in before if one.shines is Shines.NO]
    maybe = [one for one in before if one.shines is Shines.MAYBE]
    source = before[-1] if before else None
    return Arrival(
        edge=Edge(
            earliest_at=maybe[0].at if maybe else stages[first].at,
            latest_at=stages[first].at,
        ),
        behind=source.behind if source and (hidden or maybe) else "",
        estimated=bool(source and source.estimated),
    )


def gaps(stages: Sequence[Stage]) -> tuple[Gap, ...]:
    """Return when the sun goes behind something and comes back, in their order."""
    runs = [
        list(run) for _, run in groupby(stages, lambda one: one.shines is Shines.YES)
    ]
    found = []
    for before, run, after in zip(runs, runs[1:], runs[2:], strict=False):
        if run[0].shines is not Shines.YES:
            found.append(_gap(before[-1], run, after[0]))
    return tuple(found)


def _gap(before: Stage, run: list[Stage], after: Stage) -> Gap:
    hidden = [one for one in run if one.shines is Shines.NO]
    middle = hidden or run
    return Gap(
        goes=Edge(earliest_at=before.at, latest_at=middle[0].at),
        comes=Edge(earliest_at=middle[-1].at, latest_at=after.at),
        behind=next((one.behind for one in middle if one.behind), ""),
        estimated=any(one.estimated for one in run),
        is_certain=bool(hidden),
    )


def _first(stages: Sequence[Stage], wanted: Shines) -> int | None:
    return next((n for n, one in enumerate(stages) if one.shines is wanted), None)
