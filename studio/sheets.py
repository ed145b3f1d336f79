"""Tables that leave the house as CSV or as a workbook, safe to open in a spreadsheet.

In CSV a text cell that a spreadsheet would run as a formula gets an apostrophe in
front (OWASP, CSV injection; CWE-1236). A workbook says of each cell what it is: text
stays text, also when somebody edits it; sums are numbers with their currency's digits
and days are days, so that both can be added up and sorted.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Sequence
from datetime import UTC, date, datetime, time
from decimal import Decimal
from typing import Any, Final

import xlsxwriter

Cell = str | int | Decimal | date | None
_RUNS: Final = tuple("=+-@\t\r\n\0＝＋－＠")
_WORKBOOK: Final = {
    "in_memory": True,
    "strings_to_formulas": False,
    "strings_to_urls": False,
    "strings_to_numbers": False,
}
_LONGEST_TEXT: Final = 32_767
_NARROWEST, _WIDEST = 8, 44
WORKBOOK_TYPE: Final = (
    "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
)


def csv_bytes(head: Sequence[str], rows: Iterable[Sequence[Cell]]) -> bytes:
    """Return a table as CSV: UTF-8 with its mark, lines ended as RFC 4180 says."""
    out = io.StringIO(newline="")
    writer = csv.writer(out)
    writer.writerow(head)
    writer.writerows([written(cell) for cell in row] for row in rows)
    return out.getvalue().encode("utf-8-sig")


def written(cell: Cell) -> str:
    """Return a cell as it stands in the file."""
    if cell is None:
        return ""
    if isinstance(cell, str):
        return f"'{cell}" if cell.startswith(_RUNS) else cell
    if isinstance(cell, date):
        return cell.isoformat()
    return f"{cell:f}" if isinstance(cell, Decimal) else str(cell)


def workbook_bytes(
    name: str,
    head: Sequence[str],
    rows: Iterable[Sequence[Cell]],
    *,
    made_at: datetime,
) -> bytes:
    """Return a table as a workbook (.xlsx) of one sheet; its head stays in sight."""
    out = io.BytesIO()
    book = xlsxwriter.Workbook(out, _WORKBOOK)
    # The format's own clock knows no zones, and refuses a time that has one.
    book.set_properties({"created": made_at.astimezone(UTC).replace(tzinfo=None)})
    sheet = book.add_worksheet(_sheet_name(name))
    formats = _Formats(book)
    widths = [len(title) for title in head]
    for column, title in enumerate(head):
        sheet.write_string(0, column, title, formats.head)
    count = 0
    for count, row in enumerate(rows, start=1):
        for column, cell in enumerate(row):
            _write(sheet, (count, column), cell, formats)
            widths[column] = max(widths[column], len(written(cell)))
    for column, width in enumerate(widths):
        sheet.set_column(column, column, min(max(width, _NARROWEST), _WIDEST) + 2)
    sheet.freeze_panes(1, 0)
    sheet.autofilter(0, 0, count, len(head) - 1)
    book.close()
    return out.getvalue()


class _Formats:
    """The formats of a workbook, each made once."""

    def __init__(self, book: Any) -> None:
        self._book = book
        self._digits: dict[int, Any] = {}
        self.head = book.add_format({"bold": True, "bottom": 1})
        self.day = book.add_format({"num_format": "yyyy-mm-dd"})
        # As if an apostrophe had been typed in front: editing keeps it text.
        self.text = book.add_format({"quote_prefix": True})

    def sum_of(self, digits: int) -> Any:
        """Return the format of a sum with so many digits after the point."""
        if digits not in self._digits:
            shown = "#,##0" + ("." + "0" * digits if digits else "")
            self._digits[digits] = self._book.add_format({"num_format": shown})
        return self._digits[digits]


def _write(sheet: Any, place: tuple[int, int], cell: Cell, formats: _Formats) -> None:
    if isinstance(cell, str) and cell:
        kept = formats.text if cell.startswith(_RUNS) else None
        sheet.write_string(*place, _printable(cell)[:_LONGEST_TEXT], kept)
    elif isinstance(cell, Decimal):
        digits = max(0, -int(cell.as_tuple().exponent))
        sheet.write_number(*place, cell, formats.sum_of(digits))
    elif isinstance(cell, int):
        sheet.write_number(*place, cell)
    elif isinstance(cell, date):
        sheet.write_datetime(*place, datetime.combine(cell, time()), formats.day)


def _printable(text: str) -> str:
    """Leave out control characters, which XML cannot hold."""
    return "".join(sign for sign in text if sign >= " " or sign in "\t\n\r")


def _sheet_name(name: str) -> str:
    kept = "".join(sign for sign in name if sign not in "[]:*?/\\'")
    return kept[:31] or "Sheet"
