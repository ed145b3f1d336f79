"""The table of what is owed by age: narrowed, sorted, with what its sheet holds."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any, Final

from django.utils.http import urlencode

from invoicing.invoices.late import BUCKETS
from invoicing.owed.ageing import ClientAge
from studio.money import Money, decimal_from_minor, exponent
from studio.sheets import Cell

SHEET_HEAD: Final = (
    *("client", "invoice", "due", "days_late"),
    *("age", "open", "currency"),
)


@dataclass(frozen=True, slots=True)
class Head:
    """The head of a column; `direction` says that the table is sorted by it."""

    name: str
    url: str
    direction: str
    is_number: bool


def _bucket(place: int) -> Callable[[ClientAge], int]:
    return lambda one: one.buckets[place]


_BY: Final[dict[str, Callable[[ClientAge], Any]]] = {
    "client": lambda one: one.name.casefold(),
    **{f"age{place}": _bucket(place) for place in range(len(BUCKETS))},
    "owed": lambda one: one.owed_minor,
    "favour": lambda one: one.apart_minor,
}
_NAMES: Final = ("Client", *BUCKETS, "Owed", "In their favour")
FIRST_SORT: Final = "-owed"


def narrowed(
    found: Sequence[ClientAge], asked: Mapping[str, Any], currency: str
) -> list[ClientAge]:
    """Keep the clients whose name holds the words and whose debt is in the range."""
    words = (asked.get("words") or "").casefold()
    least = _minor(asked.get("least"), currency)
    most = _minor(asked.get("most"), currency)
    return [
        one
        for one in found
        if words in one.name.casefold()
        and (least is None or one.owed_minor >= least)
        and (most is None or one.owed_minor <= most)
    ]


def ordered(found: Sequence[ClientAge], sort: str) -> list[ClientAge]:
    """Sort by a column, `-` in front for downwards; clients alike stay by name."""
    sort = sort if sort.removeprefix("-") in _BY else FIRST_SORT
    by_name = sorted(found, key=lambda one: (one.name.casefold(), one.client_id))
    down = sort.startswith("-")
    return sorted(by_name, key=_BY[sort.removeprefix("-")], reverse=down)


def heads(asked: Mapping[str, str]) -> list[Head]:
    """Return the heads of the columns, each with the address that sorts by it."""
    sort = asked.get("sort", "")
    now = sort if sort.removeprefix("-") in _BY else FIRST_SORT
    kept = {name: value for name, value in asked.items() if name != "page"}
    made = []
    for key, name in zip(_BY, _NAMES, strict=True):
        is_sorted, down = now.removeprefix("-") == key, now.startswith("-")
        other = f"-{key}" if is_sorted and not down else key
        direction = ("descending" if down else "ascending") if is_sorted else ""
        url = f"?{urlencode({**kept, 'sort': other})}"
        made.append(Head(name, url, direction, key != "client"))
    return made


def sheet_rows(found: Sequence[ClientAge], currency: str) -> Iterator[list[Cell]]:
    """Return every open invoice of the clients that are shown."""
    digits = exponent(currency)
    for client in found:
        for invoice in client.invoices:
            yield [
                client.name,
                invoice.number,
                invoice.due_on,
                invoice.days_late,
                BUCKETS[invoice.bucket],
                decimal_from_minor(invoice.open_minor, digits),
                currency,
            ]


def _minor(amount: Decimal | None, currency: str) -> int | None:
    return None if amount is None else Money.rounded(amount, currency).minor
