"""On which basis tax is counted on a day: by tax point, or by receipt.

A sale or purchase is counted on the basis of its own day, so that none counts twice or
never after a change. What was waiting for its money when the basis by receipt ended
counts on the first day of the other one.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any, Final

ACCRUAL: Final = "ACCRUAL"
RECEIPT: Final = "RECEIPT"


@dataclass(frozen=True, slots=True)
class Bases:
    """The bases by the day each began on; the first holds for all days before, too.

    `holds_tax` says whether the journal holds the tax of sales by receipt apart until
    it is due. Periods that were closed before it did keep their figures.
    """

    steps: tuple[tuple[date, str], ...]
    holds_tax: bool = True

    @classmethod
    def always(cls, basis: str, *, holds_tax: bool = True) -> Bases:
        """Return one basis for all days."""
        return cls(((date.min, basis),), holds_tax)

    @classmethod
    def of_closed(cls, figures: Mapping[str, Any]) -> Bases:
        """Return the bases that a closed period was counted on."""
        if written := figures.get("bases"):
            return cls(tuple((date.fromisoformat(on), one) for on, one in written))
        return cls.always(figures["basis"], holds_tax=False)

    @classmethod
    def after(
        cls, closed: Iterable[tuple[date, Mapping[str, Any]]], current: str
    ) -> Bases:
        """Return the bases of closed periods, given by their last days and figures in
        order, and the current one from the day after the last.
        """
        steps, begins, holds_tax = [], date.min, True
        for last, figures in closed:
            steps.append((begins, str(figures["basis"])))
            begins = last + timedelta(days=1)
            holds_tax = holds_tax and not _is_of_before(figures)
        steps.append((begins, current))
        return cls(tuple(steps), holds_tax)

    def on(self, day: date) -> str:
        """Return the basis that a day is counted on."""
        began = [basis for begins, basis in self.steps if begins <= day]
        return began[-1] if began else self.steps[0][1]

    def by_receipt_until(self, day: date) -> date | None:
        """Return on which day the basis by receipt ends that `day` is counted on.

        The day itself where it is counted by tax point, None where there is no end.
        """
        if self.on(day) == ACCRUAL:
            return day
        ends = (begins for begins, basis in self.steps if basis == ACCRUAL)
        return next((one for one in ends if one > day), None)

    def written(self) -> list[list[str]]:
        """Return what a closed period keeps of them."""
        return [[begins.isoformat(), basis] for begins, basis in self.steps]

    @property
    def are_by_receipt(self) -> bool:
        """Whether any day is counted by receipt."""
        return any(basis == RECEIPT for _, basis in self.steps)


def _is_of_before(figures: Mapping[str, Any]) -> bool:
    return figures["basis"] == RECEIPT and "bases" not in figures
