"""Deposits and the balance after them. Figures by hand unless a source is named."""

from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal, localcontext

import pytest

from invoicing.tax import (
    Adjustment,
    BreakdownRow,
    Document,
    Line,
    Totals,
    balance_after_deposits,
    deposit_split,
    totals,
)


def line(
    price: str, rate: str = "20", category: str = "S", quantity: str = "1"
) -> Line:
    return Line(
        quantity=Decimal(quantity),
        unit_price=Decimal(price),
        category=category,
        rate=Decimal(rate),
    )


def gross_document(*lines: Line, currency: str = "EUR") -> Document:
    return Document(currency=currency, price_basis="gross", lines=lines)


def net_document(*lines: Line, currency: str = "EUR") -> Document:
    return Document(currency=currency, price_basis="net", lines=lines)


def rows(found: Totals) -> list[tuple[str, str, str, str]]:
    return [
        (row.category, str(row.rate), str(row.taxable), str(row.tax))
        for row in found.breakdown
    ]


def shares(lines: Sequence[Line]) -> list[tuple[str, str, Decimal]]:
    return [
        (one.category, str(one.rate), one.quantity * one.unit_price) for one in lines
    ]


def test_the_tax_of_a_balance_is_a_subtraction() -> None:
    # 16.67 - 8.34 = 8.33; a sixth of 50.01 worked out afresh would be 8.34.
    full = totals(gross_document(line("100.02")))
    deposit = totals(gross_document(line("50.01")))

    balance = balance_after_deposits(full=full, deposits=[deposit])

    assert (full.tax, deposit.tax) == (Decimal("16.67"), Decimal("8.34"))
    assert rows(balance) == [("S", "20", "41.68", "8.33")]
    assert (balance.net, balance.tax, balance.gross, balance.due) == (
        Decimal("41.68"),
        Decimal("8.33"),
        Decimal("50.01"),
        Decimal("50.01"),
    )
    assert balance.line_nets == (Decimal("100.02"), Decimal("-50.01"))
    assert balance.line_total == Decimal("50.01")


def test_a_balance_on_net_prices_takes_off_net_deposits() -> None:
    full = Document(
        currency="EUR",
        price_basis="net",
        lines=[line("1000.00"), line("100.00", "5")],
        allowances=[Adjustment(percent=Decimal(10))],
        charges=[Adjustment(amount=Decimal("30.00"), category="S", rate=Decimal(20))],
        prepaid=Decimal("7.00"),
    )
    deposits = [gross_document(line("300.00")), gross_document(line("21.00", "5.0"))]

    balance = balance_after_deposits(full=full, deposits=deposits)

    assert rows(balance) == [
        ("S", "20", "680.00", "136.00"),
        ("S", "5", "70.00", "3.50"),
    ]
    assert [str(net) for net in balance.line_nets] == [
        "1000.00",
        "100.00",
        "-250.00",
        "-20.00",
    ]
    assert balance.line_total == Decimal("830.00")
    assert balance.allowance_total == Decimal("110.00")
    assert balance.charge_total == Decimal("30.00")
    assert balance.net == Decimal("750.00")
    assert balance.gross == Decimal("889.50")
    assert balance.due == Decimal("882.50")


def test_adjustments_of_gross_prices_do_not_hide_that_they_are_gross() -> None:
    full = Document(
        currency="EUR",
        price_basis="gross",
        lines=[line("120.00")],
        allowances=[Adjustment(amount=Decimal(24), category="S", rate=Decimal(20))],
        charges=[Adjustment(amount=Decimal(12), category="S", rate=Decimal(20))],
    )

    balance = balance_after_deposits(
        full=full, deposits=[gross_document(line("60.00"))]
    )

    assert balance.line_nets == (Decimal("120.00"), Decimal("-60.00"))
    assert balance.line_total == Decimal("60.00")
    assert (balance.net, balance.gross) == (Decimal("40.00"), Decimal("48.00"))


def test_a_rate_that_changed_in_between_keeps_both_rows() -> None:
    full = totals(net_document(line("200.00", "21")))
    deposit = totals(net_document(line("50.00", "20")))

    balance = balance_after_deposits(full=full, deposits=[deposit])

    assert rows(balance) == [
        ("S", "21", "200.00", "42.00"),
        ("S", "20", "-50.00", "-10.00"),
    ]


def test_an_order_that_was_paid_in_deposits_leaves_its_rows_at_nothing() -> None:
    full = totals(gross_document(line("99.99"), line("10.00", "0", "Z")))

    balance = balance_after_deposits(full=full, deposits=[full])

    assert rows(balance) == [("S", "20", "0.00", "0.00"), ("Z", "0", "0.00", "0.00")]
    assert balance.due == 0


def test_an_order_without_deposits_is_its_own_balance() -> None:
    full = totals(gross_document(line("99.99"), line("49.95", "10")))

    assert balance_after_deposits(full=full, deposits=[]) == full


def test_a_deposit_that_was_too_much_is_due_back() -> None:
    balance = balance_after_deposits(
        full=gross_document(line("60.00")), deposits=[gross_document(line("72.00"))]
    )

    assert (balance.tax, balance.due) == (Decimal("-2.00"), Decimal("-12.00"))


def test_a_balance_keeps_the_digits_of_its_currency() -> None:
    yen = balance_after_deposits(
        full=gross_document(line("1000", "10"), currency="JPY"),
        deposits=[gross_document(line("500", "10"), currency="JPY")],
    )
    dinar = balance_after_deposits(
        full=gross_document(line("10", "5"), currency="KWD"),
        deposits=[gross_document(line("2.5", "5"), currency="KWD")],
    )

    # Half of 90.909 is 45.4545: 91 - 45 and 0.476 - 0.119.
    assert rows(yen) == [("S", "10", "454", "46")]
    assert rows(dinar) == [("S", "5", "7.143", "0.357")]


def test_totals_that_were_read_back_with_fewer_digits_add_up_as_well() -> None:
    full = totals(net_document(line("100.00", "10.00")))
    stored = replace(
        full,
        net=Decimal(10),
        tax=Decimal(1),
        gross=Decimal(11),
        breakdown=(
            BreakdownRow(
                category="S",
                rate=Decimal("10.0"),
                taxable=Decimal(10),
                tax=Decimal("1E0"),
            ),
        ),
    )

    balance = balance_after_deposits(full=full, deposits=[stored])

    assert rows(balance) == [("S", "10", "90.00", "9.00")]


def test_documents_of_two_currencies_do_not_add_up() -> None:
    with pytest.raises(ValueError, match="EUR and JPY"):
        balance_after_deposits(
            full=gross_document(line("1000")),
            deposits=[gross_document(line("500"), currency="JPY")],
        )


def test_a_deposit_is_divided_by_the_gross_of_each_rate() -> None:
    full = totals(
        net_document(line("288.00"), line("79.90", "10"), line("5.00", "0", "Z"))
    )

    # Gross 345.60, 87.89 and 5.00 of 438.49; a fourth of it, 109.62, divides into
    # 86.3981.., 21.9720.. and 1.2499..: the cent left over goes to the last of them.
    assert shares(deposit_split(full=full, deposit_gross=Decimal("109.62"))) == [
        ("S", "20", Decimal("86.40")),
        ("S", "10", Decimal("21.97")),
        ("Z", "0", Decimal("1.25")),
    ]


def test_a_deposit_of_everything_is_each_rate_whole() -> None:
    full = totals(gross_document(line("99.99"), line("49.95", "10"), line("0", "5")))

    lines = deposit_split(full=full, deposit_gross=Decimal("149.94"))

    assert shares(lines) == [
        ("S", "20", Decimal("99.99")),
        ("S", "10", Decimal("49.95")),
    ]


def test_a_rate_that_takes_money_off_gets_a_negative_share() -> None:
    full = totals(
        gross_document(line("120.00"), line("20.00", "0", "E", quantity="-1"))
    )

    lines = deposit_split(full=full, deposit_gross=Decimal("50.00"))

    assert shares(lines) == [("S", "20", Decimal(60)), ("E", "0", Decimal(-10))]
    assert [one.quantity for one in lines] == [1, -1]


def test_a_deposit_has_no_cents_in_yen() -> None:
    full = totals(gross_document(line("999", "10"), line("999", "8"), currency="JPY"))

    assert shares(deposit_split(full=full, deposit_gross=Decimal(999))) == [
        ("S", "10", Decimal(500)),
        ("S", "8", Decimal(499)),
    ]
    with pytest.raises(ValueError, match=r"9\.5"):
        deposit_split(full=full, deposit_gross=Decimal("9.5"))


@pytest.mark.parametrize("wrong", ["0", "-1", "100.01", "NaN", "0.001"])
def test_a_deposit_is_a_part_of_the_price(wrong: str) -> None:
    full = totals(gross_document(line("100.00")))

    with pytest.raises(ValueError, match=wrong):
        deposit_split(full=full, deposit_gross=Decimal(wrong))


def test_deposits_do_not_depend_on_the_decimal_context() -> None:
    full = totals(gross_document(line("12345.67"), line("12345.68", "10")))

    with localcontext(prec=2):
        split = deposit_split(full=full, deposit_gross=Decimal("12345.67"))
        deposit = totals(gross_document(*split))
        balance = balance_after_deposits(full=full, deposits=[deposit])

    assert (str(deposit.gross), str(balance.gross)) == ("12345.67", "12345.68")
    assert [str(net) for net in balance.line_nets[:2]] == ["12345.67", "12345.68"]
