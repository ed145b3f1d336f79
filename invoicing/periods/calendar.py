"""How a year of the books is cut into periods."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from typing import Final

MONTHS: Final = 12


@dataclass(frozen=True, slots=True)
class Span:
    """A period from `first` to `last`, both included."""

    first: date
    last: date

    @property
    def name(self) -> str:
        """How pages name the period."""
        first, last = self.first, self.last
        if (first.year, first.month) == (last.year, last.month):
            return f"{first:%B %Y}"
        start = f"{first:%B}" if first.year == last.year else f"{first:%B %Y}"
        return f"{start} to {last:%B %Y}"


def period_of(on: date, *, months: int, first_month: int) -> Span:
    """Return the period of `months` (1, 3 or 12) that a day lies in.

    `first_month` is a month in which a period begins. Errors: ValueError for other
    lengths, since they do not fit into a year.
    """
    if months not in (1, 3, MONTHS):
        raise ValueError(f"a period cannot have {months} months")
    back = (on.month - first_month) % months
    return _starting(_month(on.year * MONTHS + on.month - 1 - back), months)


def before(span: Span, *, months: int) -> Span:
    """Return the period before."""
    index = span.first.year * MONTHS + span.first.month - 1 - months
    return _starting(_month(index), months)


def _starting(first: date, months: int) -> Span:
    end = _month(first.year * MONTHS + first.month - 1 + months)
    return Span(first, end - timedelta(days=1))


def _month(index: int) -> date:
    year, month = divmod(index, MONTHS)
    return date(year, month + 1, 1)
