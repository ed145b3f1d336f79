"""Tables that come into the house as CSV: whatever their marks, signs and dates.

Nothing is guessed for good: what a column means is shown to the user first.
"""

from __future__ import annotations

import csv
import io
import re
from calendar import month_abbr
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from enum import Enum
from typing import Final

from studio.errors import DomainError
from studio.forms.money import AmountError, read_amount

MOST_BYTES: Final = 2 * 1_048_576
MOST_ROWS: Final = 5_000
MOST_COLUMNS: Final = 60
LONGEST_CELL: Final = 500
_MARKS: Final = ",;\t|"
_NUMBERS: Final = re.compile(r"(\d{1,4})[-/. ](\d{1,2})[-/. ](\d{1,4})(?:[T ].*)?")
_WORDED: Final = re.compile(r"(\d{1,2})[-/. ]?([A-Za-z]{3})[a-z]*[-/. ,]*(\d{2,4})")
_MONTHS: Final = {name.lower(): number for number, name in enumerate(month_abbr)}
_CENTURY: Final = 2000


class UnreadableTableError(DomainError):
    """A file is not a table that can be read."""


class DateOrder(Enum):
    """In which order a column writes day, month and year."""

    DAY_FIRST = "day"
    MONTH_FIRST = "month"
    YEAR_FIRST = "year"


@dataclass(frozen=True, slots=True)
class Table:
    """A table as it was sent: the names of its columns, and its rows."""

    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]

    def column(self, place: int) -> list[str]:
        """Return the cells of one column that say something."""
        return [row[place] for row in self.rows if row[place]]


def read_table(
    content: bytes, *, longest_cell: int = LONGEST_CELL, most_rows: int = MOST_ROWS
) -> Table:
    """Read a CSV in UTF-8, UTF-16 or Windows-1252, by comma, semicolon, tab or bar.

    Rows before the first full one (a bank's letterhead) are left out, and cells are
    cut at their longest. Raises UnreadableTableError.
    """
    if len(content) > MOST_BYTES:
        raise UnreadableTableError("The file is larger than 2 MB. Send a shorter one.")
    rows = [
        tuple(cell.strip()[:longest_cell] for cell in row)
        for row in _rows(_decoded(content))
        if any(cell.strip() for cell in row)
    ]
    width = max((len(row) for row in rows), default=0)
    if width < 2:
        raise UnreadableTableError(
            "The file holds no table. Save it as CSV, with a row of column names."
        )
    if width > MOST_COLUMNS or len(rows) > most_rows + 1:
        raise UnreadableTableError(
            f"The table is too large: at most {most_rows} rows and {MOST_COLUMNS} "
            "columns."
        )
    start = next(n for n, row in enumerate(rows) if len(row) == width)
    head, *rest = (_filled(row, width) for row in rows[start:])
    if not rest:
        raise UnreadableTableError("The table has column names and no rows.")
    return Table(head=head, rows=tuple(rest))


def read_date(text: str, order: DateOrder) -> date | None:
    """Return the day that a cell names, in the column's order; None if none."""
    if worded := _WORDED.match(text.strip()):
        month = _MONTHS.get(worded[2].lower())
        return _date(int(worded[3]), month, int(worded[1])) if month else None
    found = _NUMBERS.fullmatch(text.strip())
    if found is None:
        return None
    one, two, three = (int(part) for part in found.groups())
    if len(found[1]) == len("2027") or order is DateOrder.YEAR_FIRST:
        return _date(one, two, three)
    if order is DateOrder.MONTH_FIRST:
        return _date(three, one, two)
    return _date(three, two, one)


def guess_order(cells: Iterable[str]) -> DateOrder:
    """Return the order in which every cell is a day; day first where both fit."""
    sample = list(cells)
    for order in DateOrder:
        if sample and all(read_date(cell, order) for cell in sample):
            return order
    return DateOrder.DAY_FIRST


def read_signed(text: str, currency: str) -> Decimal:
    """Return an amount whose sign may stand in front, behind, or as brackets.

    Raises AmountError.
    """
    bare = text.strip().upper()
    below = bare.startswith("(") and bare.endswith(")")
    bare = bare.strip("()")
    for ending, is_below in (("DR", True), ("CR", False), ("-", True), ("+", False)):
        if bare.endswith(ending):
            bare, below = bare.removesuffix(ending).strip(), below or is_below
    amount = read_amount(bare.removeprefix("+"), currency)
    return -amount if below else amount


def is_amount(text: str, currency: str) -> bool:
    """Say whether a cell is an amount."""
    try:
        read_signed(text, currency)
    except AmountError:
        return False
    return True


def guess_column(head: Sequence[str], words: Sequence[str]) -> int | None:
    """Return the first column whose name holds one of some words, the best first."""
    for word in words:
        for place, name in enumerate(head):
            if word in name.lower():
                return place
    return None


def _decoded(content: bytes) -> str:
    if content.startswith((b"\xff\xfe", b"\xfe\xff")):
        return content.decode("utf-16", errors="replace")
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError:
        text = content.decode("cp1252", errors="replace")
    if "\0" in text:
        raise UnreadableTableError("The file is no text. Save the table as CSV.")
    return text


def _rows(text: str) -> list[list[str]]:
    lines = csv.reader(io.StringIO(text, newline=""), delimiter=_mark(text))
    try:
        return list(lines)
    except csv.Error as fault:
        raise UnreadableTableError(
            "The file is no table that can be read: a quotation mark may be open."
        ) from fault


def _mark(text: str) -> str:
    lines = [line for line in text.splitlines()[:50] if line.strip()]
    return max(
        _MARKS, key=lambda mark: sum(1 for line in lines if mark in line), default=","
    )


def _filled(row: tuple[str, ...], width: int) -> tuple[str, ...]:
    return row + ("",) * (width - len(row))


def _date(year: int, month: int | None, day: int) -> date | None:
    full = year + _CENTURY if year < 100 else year
    try:
        return date(full, month or 0, day)
    except ValueError:
        return None
