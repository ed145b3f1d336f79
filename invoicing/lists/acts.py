"""What may be done with the ticked rows of a money table."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass
from typing import Any, Final

from invoicing.lists.columns import Look
from invoicing.lists.listing import Listing

MOST: Final = 100


@dataclass(frozen=True, slots=True)
class Act:
    """One button below a table, for people who may do `action`."""

    name: str
    words: str
    action: str


PRINT: Final = Act("print", "Print as one PDF", "invoice.see")
SHEET: Final = Act("sheet", "Spreadsheet of these", "money.see")
REMIND: Final = Act("remind", "Prepare reminders", "invoice.send")
WAIVE: Final = Act("no-receipt", "Receipt not needed", "purchase.edit")
ACTS: Final[dict[str, tuple[Act, ...]]] = {
    "papers": (PRINT, SHEET, REMIND),
    "payments": (SHEET,),
    "purchases": (SHEET, WAIVE),
}


@dataclass(frozen=True, slots=True)
class Ticked:
    """The rows that were ticked and still stand as they were shown, and the others."""

    rows: Sequence[Any]
    refused: Sequence[str]


def acts_for(which: str, actions: Collection[str]) -> list[Act]:
    """Return the acts of a table that somebody may do."""
    return [one for one in ACTS[which] if one.action in actions]


def ticked(listing: Listing, keys: Iterable[str], look: Look) -> Ticked:
    """Return the rows behind the ticked boxes; one that was changed is refused."""
    stamps = dict(key.partition(".")[::2] for key in list(keys)[:MOST])
    wanted = {int(pk): stamp for pk, stamp in stamps.items() if pk.isdecimal()}
    rows = listing.rows({"show": "all"}, look).filter(pk__in=wanted)
    found = {row.pk: row for row in listing.ordered(rows, "")}
    kept = [row for row in found.values() if listing.stamp(row) == wanted[row.pk]]
    refused = [
        f"{row} was changed meanwhile: look at it again."
        for row in found.values()
        if row not in kept
    ]
    if gone := len(wanted) - len(found):
        refused.append(f"{gone} of the rows {'is' if gone == 1 else 'are'} gone.")
    return Ticked(kept, refused)
