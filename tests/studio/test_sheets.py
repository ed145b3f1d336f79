import csv
import io
from datetime import date
from decimal import Decimal

import pytest

from studio.sheets import Cell, csv_bytes, written


@pytest.mark.parametrize("first", ["=", "+", "-", "@", "\t", "\r", "\n", "\0", "＝"])
def test_text_that_a_spreadsheet_would_run_is_made_plain(first: str) -> None:
    # OWASP, CSV injection: cells that begin with these signs are formulas.
    assert written(f"{first}1+1") == f"'{first}1+1"


def test_figures_and_days_are_not_changed() -> None:
    assert written(Decimal("-37.80")) == "-37.80"
    assert written(-3) == "-3"
    assert written(date(2026, 9, 30)) == "2026-09-30"
    assert written(None) == ""


def test_what_is_written_is_read_again_by_a_reader_of_csv() -> None:
    head = ["name", "sum"]
    row: list[Cell] = ['Söhne, "Wool"\nand more', Decimal("1.50")]

    content = csv_bytes(head, [row])

    read = list(csv.reader(io.StringIO(content.decode("utf-8-sig"), newline="")))
    assert read == [head, ['Söhne, "Wool"\nand more', "1.50"]]
    assert content.endswith(b"\r\n")  # RFC 4180
