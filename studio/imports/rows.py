"""What a list says: which of its columns means what, and each row as a form's words."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from studio.imports.kinds import Column, Kind
from studio.tables import DateOrder, Table, guess_order, read_date, read_table

LONGEST_CELL: Final = 6_000
MOST_ROWS: Final = 1_000
SAMPLES: Final = 3


class RowError(ValueError):
    """A cell does not say what its column is for."""

    def __init__(self, label: str, cell: str, why: str) -> None:
        super().__init__(why)
        self.label, self.cell = label, cell


@dataclass(frozen=True, slots=True, kw_only=True)
class Matching:
    """Which column of a file holds what, by the names of the kind's columns."""

    places: Mapping[str, int | None]
    order: DateOrder


def read_list(content: bytes) -> Table:
    """Read a list as it was sent. Raises UnreadableTableError."""
    return read_table(content, longest_cell=LONGEST_CELL, most_rows=MOST_ROWS)


def guess_matching(kind: Kind, table: Table) -> Matching:
    """Return what the columns seem to mean by their names; each is taken once."""
    places: dict[str, int | None] = {}
    free = dict(enumerate(name.strip().lower() for name in table.head))
    for whole in (True, False):
        for column in kind.columns:
            if places.get(column.name) is not None:
                continue
            place = _place_of(column, free, whole=whole)
            places[column.name] = place
            if place is not None:
                del free[place]
    days = [
        cell
        for column in kind.columns
        if column.is_day and (at := places[column.name]) is not None
        for cell in table.column(at)
    ]
    return Matching(places=places, order=guess_order(days))


def cells_of(kind: Kind, row: tuple[str, ...], matching: Matching) -> dict[str, str]:
    """Return a row as the kind's form takes it. Raises RowError."""
    cells = {}
    for column in kind.columns:
        place = matching.places.get(column.name)
        written = "" if place is None else row[place]
        cells[column.name] = _cell(column, written, matching.order)
    return cells


def lacking_of(kind: Kind, matching: Matching) -> list[str]:
    """Return what every row must say and no column holds."""
    return [
        column.label
        for column in kind.columns
        if column.required and matching.places.get(column.name) is None
    ]


def samples(table: Table, place: int) -> list[str]:
    """Return the first different words of a column."""
    return list(dict.fromkeys(table.column(place)))[:SAMPLES]


def _place_of(column: Column, free: Mapping[int, str], *, whole: bool) -> int | None:
    for word in (column.label.lower(), *column.words):
        for place, name in free.items():
            if name == word or (not whole and word in name):
                return place
    return None


def _cell(column: Column, written: str, order: DateOrder) -> str:
    if not written:
        return column.default
    if column.is_day:
        day = read_date(written, order)
        return day.isoformat() if day else written
    if column.choices:
        return _choice(column, written)
    # A sheet keeps a text from being a formula by an apostrophe in front.
    return written[1:] if written[:2] in _KEPT_FROM_RUNNING else written


def _choice(column: Column, written: str) -> str:
    try:
        return column.choices[written.strip().lower()]
    except KeyError as fault:
        known = ", ".join(dict.fromkeys(column.choices))
        raise RowError(column.label, written, f"Write one of: {known}.") from fault


_KEPT_FROM_RUNNING: Final = frozenset(f"'{sign}" for sign in "=+-@")
