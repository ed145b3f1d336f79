"""Workbooks, read back by a reader that is not ours."""

import io
from datetime import UTC, date, datetime
from decimal import Decimal
from typing import Any

from openpyxl import load_workbook

from studio.sheets import Cell, workbook_bytes

AT = datetime(2026, 6, 21, 12, tzinfo=UTC)


def sheet_with(*cells: Cell) -> list[Any]:
    head = [f"c{n}" for n in range(len(cells))]
    made = workbook_bytes("Lists: all/of it", head, [cells], made_at=AT)
    return list(load_workbook(io.BytesIO(made)).active[2])


def test_what_would_run_as_a_formula_or_link_is_text_and_stays_text() -> None:
    # OWASP, CSV injection: cells that begin with = + - @ are run by spreadsheets
    wild = ["=cmd|'/c calc'!A0", "+1", "-1", "@SUM(A1)", "=1+1", "https://a.example"]

    cells = sheet_with(*wild)

    assert [cell.value for cell in cells] == wild
    assert {cell.data_type for cell in cells} == {"s"}
    assert [cell.quotePrefix for cell in cells] == [True] * 5 + [False]
    assert all(cell.hyperlink is None for cell in cells)


def test_sums_are_numbers_with_their_currencys_digits_and_days_are_days() -> None:
    pounds, yen, dinars, day, count = sheet_with(
        Decimal("1234.50"), Decimal(-500), Decimal("0.125"), date(2026, 2, 28), 7
    )

    assert (pounds.value, pounds.number_format) == (1234.5, "#,##0.00")
    assert (yen.value, yen.number_format) == (-500, "#,##0")
    assert (dinars.value, dinars.number_format) == (0.125, "#,##0.000")
    assert (day.value, day.is_date) == (datetime(2026, 2, 28), True)  # noqa: DTZ001
    assert count.value == 7


def test_figures_of_a_text_keep_their_zeros_and_controls_go() -> None:
    reference, odd, none = sheet_with("007", "a\x00\x0bb", None)

    assert (reference.value, odd.value, none.value) == ("007", "ab", None)


def test_equal_tables_give_equal_bytes() -> None:
    one, other = (workbook_bytes("A", ["b"], [["c"]], made_at=AT) for _ in range(2))

    assert one == other
