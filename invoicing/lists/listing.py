"""One money table: which rows there are, in which order, and what they add up to."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any, Final

from django.db.models import Count, Q, QuerySet, Sum

from invoicing.lists.columns import Column, Look, columns_for
from studio.money import Money
from studio.sheets import Cell

Narrowed = Mapping[str, Any]
GROUP: Final = "rank"


@dataclass(frozen=True, slots=True, kw_only=True)
class Listing:
    """A money table. `groups` names what each `rank` of its rows stands for.

    `first_order` is the order in which it opens, and `first_sort` the column that its
    head calls sorted then. `stamp` tells one state of a row from another.
    """

    slug: str
    name: str
    action: str
    columns: tuple[Column, ...]
    rows: Callable[[Narrowed, Look], QuerySet[Any]]
    first_order: tuple[str, ...]
    first_sort: str
    groups: Callable[[Look], tuple[str, ...]] | None = None
    stamp: Callable[[Any], str] = lambda row: ""

    def of(self, look: Look) -> tuple[Column, ...]:
        """Return the columns that this studio has."""
        return columns_for(self.columns, look)

    def ordered(self, rows: QuerySet[Any], sort: str) -> QuerySet[Any]:
        """Sort by a column, `-` in front for downwards; rows alike stay by age."""
        field = self.order_of(sort)
        if not field:
            return rows.order_by(*self.first_order, "pk")
        minus = "-" if sort.startswith("-") else ""
        return rows.order_by(f"{minus}{field}", f"{minus}pk")

    def order_of(self, sort: str) -> str:
        """Return the field that a column is sorted by; nothing for an unknown one."""
        key = sort.removeprefix("-")
        return next((one.order for one in self.columns if one.key == key), "")

    def is_grouped(self, sort: str) -> bool:
        """Whether the rows stand in groups: as the table opens, not when sorted."""
        return self.groups is not None and not self.order_of(sort)


@dataclass(frozen=True, slots=True)
class Total:
    """What rows of one currency, and of one group, come to."""

    rank: int
    currency: str
    count: int
    sums: Mapping[str, int]


def totals_of(listing: Listing, rows: QuerySet[Any]) -> list[Total]:
    """Return the sums of all rows by group and currency, in one query."""
    by = [*([GROUP] if listing.groups else []), "currency"]
    adding = [one for one in listing.columns if one.adds]
    sums = {f"sum_{one.key}": Sum(one.adds) for one in adding}
    found = rows.order_by().values(*by).annotate(many=Count("pk"), **sums)
    return [
        Total(
            rank=row.get(GROUP, 0),
            currency=row["currency"],
            count=row["many"],
            sums={one.key: row[f"sum_{one.key}"] or 0 for one in adding},
        )
        for row in found.order_by(*by)
    ]


def sheet_of(
    listing: Listing, rows: Iterable[Any], look: Look
) -> tuple[Sequence[str], Iterator[list[Cell]]]:
    """Return head and rows of a sheet; the currency stands in a column of its own."""
    columns = [one for one in listing.of(look) if one.in_sheet]
    head = [*(one.name for one in columns), "Currency"]
    return head, ([*(one.cell(row) for one in columns), row.currency] for row in rows)


def between(
    rows: QuerySet[Any], field: str, least: Decimal | None, most: Decimal | None
) -> QuerySet[Any]:
    """Keep the rows with a sum from `least` to `most`, each in its own currency."""
    if least is None and most is None:
        return rows
    used = rows.order_by().values_list("currency", flat=True).distinct()
    fits = Q(pk__in=[])
    for currency in used:
        one = Q(currency=currency)
        if least is not None:
            one &= Q(**{f"{field}__gte": Money.rounded(least, currency).minor})
        if most is not None:
            one &= Q(**{f"{field}__lte": Money.rounded(most, currency).minor})
        fits |= one
    return rows.filter(fits)
