"""Net figures for the parts of gross prices. Figures by hand."""

from decimal import Decimal
from typing import Literal

from invoicing.tax import Adjustment, Document, Line, NetPart, spread, totals


def line(price: str, rate: str = "20", quantity: str = "1") -> Line:
    return Line(
        quantity=Decimal(quantity), unit_price=Decimal(price), rate=Decimal(rate)
    )


def document(
    *lines: Line, basis: Literal["net", "gross"] = "gross", currency: str = "EUR"
) -> Document:
    return Document(currency=currency, price_basis=basis, lines=lines)


def nets(parts: tuple[NetPart, ...]) -> list[str]:
    return [str(part.net) for part in parts]


def test_lines_of_one_rate_add_up_to_its_taxable_sum() -> None:
    # 99.99 gross is 83.32 net; a third is 27.7733, and one cent is over.
    found = spread(document(*[line("33.33")] * 3))

    assert nets(found.lines) == ["27.78", "27.77", "27.77"]


def test_each_rate_is_spread_over_its_own_lines() -> None:
    found = spread(
        document(line("99.99"), line("49.95", "10"), line("49.95"), line("5", "0"))
    )

    # 149.94 / 1.2 = 124.95: 83.325 and 41.625, of which the first gets the cent.
    assert nets(found.lines) == ["83.33", "45.41", "41.62", "5.00"]
    assert [str(part.rate) for part in found.lines] == ["20", "10", "20", "0"]


def test_a_return_mirrors_the_sale() -> None:
    sold = spread(document(*[line("33.33")] * 3))
    returned = spread(document(*[line("33.33", quantity="-1")] * 3))

    assert [-part.net for part in returned.lines] == [part.net for part in sold.lines]


def test_lines_that_cancel_each_other_keep_their_nets() -> None:
    found = spread(document(line("100.00"), line("100.00", quantity="-1")))

    assert sum(part.net for part in found.lines) == 0
    assert abs(found.lines[0].net - Decimal("83.335")) <= Decimal("0.01")


def test_allowances_and_charges_lose_their_tax_as_well() -> None:
    order = Document(
        currency="EUR",
        price_basis="gross",
        lines=[line("120.00"), line("110.00", "10")],
        allowances=[Adjustment(percent=Decimal(10))],
        charges=[Adjustment(amount=Decimal(6), category="S", rate=Decimal(20))],
    )

    found = spread(order)

    assert nets(found.lines) == ["100.00", "100.00"]
    assert found.allowances == (
        NetPart(category="S", rate=Decimal(20), net=Decimal(10)),
        NetPart(category="S", rate=Decimal(10), net=Decimal(10)),
    )
    assert found.charges == (NetPart(category="S", rate=Decimal(20), net=Decimal(5)),)


def test_net_prices_are_shown_as_they_are() -> None:
    order = Document(
        currency="EUR",
        price_basis="net",
        lines=[line("33.33"), line("10.00", "10")],
        allowances=[Adjustment(amount=Decimal("1.00"), category="S", rate=Decimal(20))],
        charges=[Adjustment(amount=Decimal("2.00"), category="S", rate=Decimal(10))],
    )

    found = spread(order)

    assert nets(found.lines) == ["33.33", "10.00"]
    assert (nets(found.allowances), nets(found.charges)) == (["1.00"], ["2.00"])


def test_net_parts_have_the_digits_of_their_currency() -> None:
    assert nets(spread(document(line("1000", "10"), currency="JPY")).lines) == ["909"]
    assert nets(spread(document(line("1", "5"), currency="KWD")).lines) == ["0.952"]


def test_every_price_of_a_line_by_itself_is_the_taxable_sum() -> None:
    order = document(line("49.95"))

    assert spread(order).lines[0].net == totals(order).net
