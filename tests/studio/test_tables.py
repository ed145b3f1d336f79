from datetime import date
from decimal import Decimal

import pytest

from studio.tables import (
    DateOrder,
    UnreadableTableError,
    guess_column,
    guess_order,
    read_date,
    read_signed,
    read_table,
)


@pytest.mark.parametrize("mark", [",", ";", "\t", "|"])
@pytest.mark.parametrize("code", ["utf-8", "utf-8-sig", "utf-16", "cp1252"])
def test_a_table_is_read_whatever_its_marks_and_signs(mark: str, code: str) -> None:
    text = (
        mark.join(["Date", "Söhne", "Sum"]) + "\r\n" + mark.join(["1/2/26", "é", "5"])
    )

    table = read_table(text.encode(code))

    assert table.head == ("Date", "Söhne", "Sum")
    assert table.rows == (("1/2/26", "é", "5"),)


def test_a_letterhead_before_the_table_is_left_out_and_short_rows_are_filled() -> None:
    table = read_table(b"Account 12\n\nDate,Sum,Who\n1/2/26,5\n2/2/26,6,Ada\n")

    assert table.head == ("Date", "Sum", "Who")
    assert table.rows[0] == ("1/2/26", "5", "")


@pytest.mark.parametrize(
    ("content", "sentence"),
    [
        (b"", "no table"),
        (b"only one column\nhere", "no table"),
        (b"a,b\n", "no rows"),
        (b"a,b\n" + b"1,2\n" * 5_001, "too large"),
        (b"\x00\x01,\n2,3", "no text"),
        (b"x" * 3_000_000, "larger than 2 MB"),
    ],
)
def test_what_is_no_table_is_refused_with_a_sentence(
    content: bytes, sentence: str
) -> None:
    with pytest.raises(UnreadableTableError, match=sentence):
        read_table(content)


@pytest.mark.parametrize(
    ("text", "order", "day"),
    [
        ("03/04/2026", DateOrder.DAY_FIRST, date(2026, 4, 3)),
        ("03/04/2026", DateOrder.MONTH_FIRST, date(2026, 3, 4)),
        ("3.4.26", DateOrder.DAY_FIRST, date(2026, 4, 3)),
        ("2026-04-03", DateOrder.DAY_FIRST, date(2026, 4, 3)),  # ISO 8601
        ("2026-04-03T10:15:00", DateOrder.DAY_FIRST, date(2026, 4, 3)),
        ("26-04-03", DateOrder.YEAR_FIRST, date(2026, 4, 3)),
        ("3 Apr 2026", DateOrder.MONTH_FIRST, date(2026, 4, 3)),
        ("03-April-26", DateOrder.DAY_FIRST, date(2026, 4, 3)),
        ("31/02/2026", DateOrder.DAY_FIRST, None),
        ("soon", DateOrder.DAY_FIRST, None),
    ],
)
def test_days_are_read_in_their_order(
    text: str, order: DateOrder, day: date | None
) -> None:
    assert read_date(text, order) == day


def test_one_cell_with_a_day_above_twelve_settles_the_order() -> None:
    assert guess_order(["03/04/2026", "04/28/2026"]) is DateOrder.MONTH_FIRST
    assert guess_order(["03/04/2026", "28/04/2026"]) is DateOrder.DAY_FIRST
    assert guess_order([]) is DateOrder.DAY_FIRST


@pytest.mark.parametrize(
    ("text", "amount"),
    [
        ("1,234.50", "1234.50"),
        ("1.234,50", "1234.50"),
        ("-38.00", "-38.00"),
        ("38.00-", "-38.00"),
        ("(38.00)", "-38.00"),
        ("38.00 DR", "-38.00"),
        ("38.00CR", "38.00"),
        ("+38", "38.00"),
        ("£38.00", "38.00"),
    ],
)
def test_amounts_carry_their_sign_in_many_ways(text: str, amount: str) -> None:
    assert read_signed(text, "GBP") == Decimal(amount)


def test_a_column_is_guessed_by_its_name_the_best_word_first() -> None:
    head = ("Value date", "Transaction date", "Amount (GBP)")

    assert guess_column(head, ("transaction date", "date")) == 1
    assert guess_column(head, ("amount",)) == 2
    assert guess_column(head, ("balance",)) is None
