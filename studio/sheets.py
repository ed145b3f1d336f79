"""Tables that leave the house as CSV, safe to open in a spreadsheet.

A text cell that a spreadsheet would run as a formula gets an apostrophe in front
(OWASP, CSV injection; CWE-1236). Numbers are written as numbers and never changed.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Sequence
from datetime import date
from decimal import Decimal
from typing import Final

Cell = str | int | Decimal | date | None
_RUNS: Final = tuple("=+-@\t\r\n\0＝＋－＠")


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
