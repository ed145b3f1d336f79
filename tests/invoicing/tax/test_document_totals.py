"""Worked totals. Where no source is named the figures were worked out by hand."""

from collections.abc import Sequence
from decimal import Decimal, localcontext
from typing import Literal

import pytest

from invoicing.tax import Adjustment, Document, Line, Totals, totals


def line(
    price: str, rate: str = "20", category: str = "S", quantity: str = "1"
) -> Line:
    return Line(
        quantity=Decimal(quantity),
        unit_price=Decimal(price),
        category=category,
        rate=Decimal(rate),
    )


def document(
    *lines: Line,
    basis: Literal["net", "gross"] = "net",
    currency: str = "EUR",
    allowances: Sequence[Adjustment] = (),
    charges: Sequence[Adjustment] = (),
) -> Document:
    return Document(
        currency=currency,
        price_basis=basis,
        lines=lines,
        allowances=allowances,
        charges=charges,
    )


def rows(found: Totals) -> list[tuple[str, str, str, str]]:
    return [
        (row.category, str(row.rate), str(row.taxable), str(row.tax))
        for row in found.breakdown
    ]


def sums(found: Totals) -> tuple[str, str, str]:
    return str(found.net), str(found.tax), str(found.gross)


def test_a_percentage_off_the_document_is_rounded_in_each_rate() -> None:
    found = totals(
        document(
            line("99.95", "20"),
            line("49.95", "10"),
            allowances=[Adjustment(percent=Decimal(10))],
        )
    )

    # 9.995 and 4.995 go up, 8.99 / 4.495 are the taxes: EN 16931 BR-CO-17, by hand.
    assert rows(found) == [
        ("S", "20", "89.95", "17.99"),
        ("S", "10", "44.95", "4.50"),
    ]
    assert found.allowance_total == Decimal("15.00")
    assert sums(found) == ("134.90", "22.49", "157.39")


@pytest.mark.parametrize(
    ("currency", "gross", "rate", "tax"),
    [
        # One sixth; 16.665 and 8.325 go up. By hand.
        ("EUR", "99.99", "20", "16.67"),
        ("EUR", "49.95", "20", "8.33"),
        # Australia: one eleventh of the price (GST Act 1999, s 9-70; from memory).
        ("AUD", "110.00", "10", "10.00"),
        ("AUD", "49.95", "10", "4.54"),
        # New Zealand: 3/23 of the price (Inland Revenue's tax fraction; from memory).
        ("NZD", "115.00", "15", "15.00"),
        ("NZD", "49.95", "15", "6.52"),
        # Currencies without, and with three, decimals: by hand.
        ("JPY", "999", "10", "91"),
        ("KWD", "1.005", "5", "0.048"),
    ],
)
def test_tax_is_carved_out_of_a_gross_price(
    currency: str, gross: str, rate: str, tax: str
) -> None:
    found = totals(document(line(gross, rate), basis="gross", currency=currency))

    taxable = Decimal(gross) - Decimal(tax)
    assert sums(found) == (str(taxable), tax, gross)
    assert rows(found) == [("S", rate, str(taxable), tax)]
    assert found.line_nets == (found.line_total,) == (Decimal(gross),)


def test_a_gross_price_that_no_net_price_reaches_stays_as_it_was_quoted() -> None:
    # A net price in cents times 1.2 misses every sixth gross price in cents. Counted.
    reachable = {(net * 12 + 5) // 10 for net in range(200_000)}
    prices = [whole * 100 + 99 for whole in range(2000)]

    missed = [price for price in prices if price not in reachable]
    kept = [
        totals(document(line(str(Decimal(price) / 100)), basis="gross")).gross
        for price in missed
    ]

    assert len(missed) == 667
    assert kept == [Decimal(price) / 100 for price in missed]


def test_tax_is_carved_out_once_for_a_rate_and_not_for_each_line() -> None:
    found = totals(document(*[line("33.33")] * 3, basis="gross"))

    # 99.99 / 6 = 16.665; line by line it would be three times 5.555, 16.68.
    assert found.tax == Decimal("16.67")


def test_tax_is_added_once_for_a_rate_and_not_for_each_line() -> None:
    found = totals(document(*[line("0.45", "10")] * 3, currency="AUD"))

    # The total invoice rule of the Australian GST Act 1999, s 9-90: 0.135 goes up;
    # line by line it would be 0.15.
    assert found.tax == Decimal("0.14")


def test_allowances_and_charges_on_gross_prices_are_gross() -> None:
    found = totals(
        document(
            line("120.00"),
            line("55.00", "10"),
            basis="gross",
            allowances=[Adjustment(amount=Decimal(12), category="S", rate=Decimal(20))],
            charges=[Adjustment(amount=Decimal(11), category="S", rate=Decimal(10))],
        )
    )

    assert rows(found) == [("S", "20", "90.00", "18.00"), ("S", "10", "60.00", "6.00")]
    assert found.line_total == Decimal("175.00")
    assert found.allowance_total == Decimal("12.00")
    assert found.charge_total == Decimal("11.00")
    assert sums(found) == ("150.00", "24.00", "174.00")


def test_a_line_is_rounded_part_by_part() -> None:
    found = totals(
        document(
            Line(
                quantity=Decimal(3),
                unit_price=Decimal("33.335"),
                allowances=[Adjustment(percent=Decimal(50))],
                charges=[Adjustment(amount=Decimal("0.005"))],
                rate=Decimal(20),
            )
        )
    )

    # 100.005 goes up to 100.01, of which the half goes up to 50.01 (of 100.005 it
    # would be 50.00); 0.005 goes up to 0.01.
    assert found.line_nets == (Decimal("50.01"),)


def test_a_price_may_be_for_a_number_of_things() -> None:
    prints = Line(
        quantity=Decimal(5), unit_price=Decimal("10.00"), base_quantity=Decimal(3)
    )

    assert totals(document(prints)).line_nets == (Decimal("16.67"),)


def test_halves_go_away_from_zero_on_both_sides() -> None:
    sold = totals(document(line("0.125", "0", quantity="1")))
    returned = totals(document(line("0.125", "0", quantity="-1")))
    exact_thirds = totals(document(line("0.0049999999999999999999999999999999")))

    assert (sold.gross, returned.gross) == (Decimal("0.13"), Decimal("-0.13"))
    assert exact_thirds.gross == 0


def test_tax_of_a_return_is_rounded_away_from_zero() -> None:
    net = totals(document(line("0.05", "10", quantity="-1")))
    gross = totals(document(line("99.99", quantity="-1"), basis="gross"))

    assert net.tax == Decimal("-0.01")
    assert sums(gross) == ("-83.32", "-16.67", "-99.99")


def test_a_percentage_of_a_named_rate_is_of_its_line_sum() -> None:
    twenty = Decimal(20)
    found = totals(
        document(
            line("100.00"),
            line("50.00", "10"),
            allowances=[
                Adjustment(percent=Decimal(10), category="S", rate=twenty),
                Adjustment(percent=Decimal(10), category="S", rate=twenty),
            ],
            charges=[Adjustment(percent=Decimal(5), category="S", rate=Decimal(10))],
        )
    )

    # Each is of the lines alone: the second ten per cent is not of 90.
    assert rows(found) == [("S", "20", "80.00", "16.00"), ("S", "10", "52.50", "5.25")]


def test_a_percentage_with_a_base_is_of_that_base() -> None:
    off = Adjustment(
        percent=Decimal(10), base=Decimal("33.35"), category="S", rate=Decimal(20)
    )

    found = totals(document(line("100.00"), allowances=[off]))

    assert found.allowance_total == Decimal("3.34")


def test_a_line_percentage_with_a_base_is_of_that_base() -> None:
    off = Adjustment(percent=Decimal(10), base=Decimal(50))
    retouching = Line(quantity=Decimal(1), unit_price=Decimal(80), allowances=[off])

    assert totals(document(retouching)).line_total == Decimal("75.00")


def test_a_sum_off_the_document_goes_to_its_only_rate() -> None:
    off = Adjustment(amount=Decimal("7.77"))

    found = totals(document(line("0.00"), allowances=[off]))

    assert rows(found) == [("S", "20", "-7.77", "-1.55")]


def test_a_sum_off_the_document_is_shared_by_the_line_sums() -> None:
    lines = [line("200.00"), line("100.00", "10"), line("100.00", "0", "Z")]
    off = [Adjustment(amount=Decimal("0.05"))]
    on = [Adjustment(percent=Decimal(10), base=Decimal(40))]

    found = totals(document(*lines, allowances=off, charges=on))

    # 0.025, 0.0125 and 0.0125: the odd cent goes to the largest remainder.
    assert rows(found) == [
        ("S", "20", "201.97", "40.39"),
        ("S", "10", "100.99", "10.10"),
        ("Z", "0", "100.99", "0.00"),
    ]
    assert (found.allowance_total, found.charge_total) == (
        Decimal("0.05"),
        Decimal("4.00"),
    )


def test_a_rate_in_use_keeps_its_row_at_nothing() -> None:
    fee = Adjustment(amount=Decimal(1), category="E")

    found = totals(
        document(
            line("80.00", "19"),
            line("80.00", "19.00", quantity="-1"),
            allowances=[fee],
            charges=[fee],
        )
    )

    assert rows(found) == [("S", "19", "0.00", "0.00"), ("E", "0", "0.00", "0.00")]
    assert sums(found) == ("0.00", "0.00", "0.00")


def test_zero_rated_exempt_and_reverse_charged_sums_stay_apart() -> None:
    found = totals(
        document(
            line("3.00", "0", "Z"),
            line("2.00", "0", "E"),
            line("1.00", "0.0", "AE"),
            line("5.00", "5.50"),
            line("4.00", "20"),
        )
    )

    assert rows(found) == [
        ("S", "20", "4.00", "0.80"),
        ("S", "5.5", "5.00", "0.28"),
        ("AE", "0", "1.00", "0.00"),
        ("E", "0", "2.00", "0.00"),
        ("Z", "0", "3.00", "0.00"),
    ]


def test_what_is_due_is_less_what_was_paid_and_rounded_for_cash() -> None:
    # The cash rounding of the Peppol BIS Billing 3.0 guide: 999.81 is paid as 1,000.
    owed = Document(
        currency="EUR",
        price_basis="gross",
        lines=[line("1099.81")],
        prepaid=Decimal(100),
        rounding=Decimal("0.19"),
    )

    found = totals(owed)

    assert (str(found.gross), str(found.due)) == ("1099.81", "1000.00")


def test_figures_have_the_digits_of_their_currency() -> None:
    yen = totals(document(line("1234.5", "10"), currency="JPY"))
    dinar = totals(document(line("1.2345", "5"), currency="KWD"))

    assert sums(yen) == ("1235", "124", "1359")
    assert sums(dinar) == ("1.235", "0.062", "1.297")


def test_whole_numbers_may_be_given_as_such() -> None:
    hours = Line(quantity=3, unit_price=50, rate=20)  # type: ignore[arg-type]

    assert sums(totals(document(hours))) == ("150.00", "30.00", "180.00")


def test_a_line_that_names_no_rate_carries_no_tax() -> None:
    found = totals(document(Line(quantity=Decimal(2), unit_price=Decimal(40))))

    assert rows(found) == [("S", "0", "80.00", "0.00")]


def test_a_document_without_lines_comes_to_nothing() -> None:
    found = totals(document(allowances=[Adjustment(percent=Decimal(10))]))

    assert sums(found) == ("0.00", "0.00", "0.00")
    assert found.breakdown == ()


def test_figures_do_not_depend_on_the_decimal_context() -> None:
    large = line("12345678901234567.89", "19", quantity="10")
    with localcontext(prec=3):
        found = totals(document(large))

    assert sums(found) == (
        "123456789012345678.90",
        "23456789912345678.99",
        "146913578924691357.89",
    )
