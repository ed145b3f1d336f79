"""Which nightly copies are kept: seven days, four weeks, twelve months."""

from __future__ import annotations

from collections.abc import Collection, Hashable, Sequence
from datetime import date
from typing import Final

DAYS: Final = 7
WEEKS: Final = 4
MONTHS: Final = 12


def kept(days: Collection[date]) -> set[date]:
    """Return the days whose copies stay: the newest of each day, week and month."""
    newest_first = sorted(days, reverse=True)
    weeks = [(day, day.isocalendar()[:2]) for day in newest_first]
    months = [(day, (day.year, day.month)) for day in newest_first]
    return (
        set(newest_first[:DAYS])
        | _first_of_each(weeks, WEEKS)
        | _first_of_each(months, MONTHS)
    )


def _first_of_each(days: Sequence[tuple[date, Hashable]], most: int) -> set[date]:
    first: dict[Hashable, date] = {}
    for day, span in days:
        first.setdefault(span, day)
    return set(list(first.values())[:most])
