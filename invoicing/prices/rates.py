"""Rates of tax by day: which rate is in force, where the list says another."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Self

from django.db import transaction

from invoicing.prices.models import RateChange
from studio.errors import DomainError
from studio.history.operations import record
from studio.people.models import Person


@dataclass(frozen=True, slots=True)
class Change:
    """From a day on, one rate becomes another; both in basis points."""

    from_on: date
    was: int
    becomes: int


@dataclass(frozen=True, slots=True)
class DatedRates:
    """All changes of rates, the earliest first."""

    changes: tuple[Change, ...] = ()

    @classmethod
    def load(cls) -> Self:
        """Read the changes. One query."""
        rows = RateChange.objects.all()
        return cls(
            tuple(
                Change(row.from_on, row.was_basis_points, row.becomes_basis_points)
                for row in rows
            )
        )

    def on(self, rate: int, day: date) -> int:
        """Return what a rate of the list has become by a day."""
        for change in self.changes:
            if change.from_on <= day and change.was == rate:
                rate = change.becomes
        return rate

    def last_change(self, rate: int, day: date) -> Change | None:
        """Return the change that made a rate another one by a day, if one did.

        A rate that has come back by then is none.
        """
        made, now = None, rate
        for change in self.changes:
            if change.from_on <= day and change.was == now:
                now, made = change.becomes, change
        return made if now != rate else None


class RateChangeError(DomainError):
    """One rate is to become two others on the same day."""


@transaction.atomic
def set_rate_changes(
    *, changes: Sequence[Change], by: Person, at: datetime
) -> list[RateChange]:
    """Keep which rates become which from a day on; papers that stand never move.

    Raises RateChangeError.
    """
    if len({(one.from_on, one.was) for one in changes}) < len(changes):
        raise RateChangeError("One rate changes twice on the same day.")
    RateChange.objects.all().delete()
    kept = RateChange.objects.bulk_create(
        RateChange(
            from_on=one.from_on,
            was_basis_points=one.was,
            becomes_basis_points=one.becomes,
        )
        for one in changes
    )
    for row in kept:
        data = {"from": row.from_on.isoformat(), "rate": str(row)}
        record(row, "set", by=by, at=at, data=data)
    return kept
