"""Ages and accounts as pages show them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from invoicing.invoices.late import BUCKETS
from invoicing.owed.ageing import Account, ClientAge
from studio.money import Money


@dataclass(frozen=True, slots=True, kw_only=True)
class AgeRow:
    """One client's row of the table."""

    client_id: int
    name: str
    buckets: tuple[Money | None, ...]
    owed: Money
    apart: Money | None

    @property
    def aged(self) -> list[tuple[str, Money]]:
        """Each age that holds something, with its name."""
        named = zip(BUCKETS, self.buckets, strict=True)
        return [(name, sum_) for name, sum_ in named if sum_]


@dataclass(frozen=True, slots=True, kw_only=True)
class ShownLine:
    """One line of an account."""

    on: date
    what: str
    sum: Money
    balance: Money


def age_rows(found: Sequence[ClientAge], currency: str) -> list[AgeRow]:
    """Return a row for each client; what is nothing stays empty."""
    return [
        AgeRow(
            client_id=one.client_id,
            name=one.name,
            buckets=tuple(_or_none(minor, currency) for minor in one.buckets),
            owed=Money.from_minor(one.owed_minor, currency),
            apart=_or_none(one.apart_minor, currency),
        )
        for one in found
    ]


def age_totals(found: Sequence[ClientAge], currency: str) -> AgeRow:
    """Return the sums of all clients."""
    sums = [sum(one.buckets[place] for one in found) for place in range(len(BUCKETS))]
    return AgeRow(
        client_id=0,
        name="All clients",
        buckets=tuple(_or_none(minor, currency) for minor in sums),
        owed=Money.from_minor(sum(sums), currency),
        apart=_or_none(sum(one.apart_minor for one in found), currency),
    )


def sums_to_choose(
    by_currency: Mapping[str, Sequence[ClientAge]], shown: str
) -> list[Money]:
    """Return what is owed in each currency with a balance, and in the one shown."""
    return [
        Money.from_minor(sum(one.owed_minor for one in found), currency)
        for currency, found in by_currency.items()
        if found or currency == shown
    ]


def account_lines(found: Account, currency: str) -> list[ShownLine]:
    """Return the lines of an account."""
    return [
        ShownLine(
            on=line.on,
            what=line.what,
            sum=Money.from_minor(line.minor, currency),
            balance=Money.from_minor(line.balance_minor, currency),
        )
        for line in found.lines
    ]


def _or_none(minor: int, currency: str) -> Money | None:
    return Money.from_minor(minor, currency) if minor else None
