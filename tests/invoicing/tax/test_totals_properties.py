"""What holds for every document, whatever its figures (no outside source needed)."""

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from typing import Literal

from hypothesis import given, settings
from hypothesis import strategies as st

from invoicing.tax import (
    Adjustment,
    BreakdownRow,
    Document,
    Line,
    Totals,
    balance_after_deposits,
    deposit_split,
    spread,
    totals,
)
from studio.money import exponent

PAIRS = [
    ("S", Decimal(20)),
    ("S", Decimal("5.5")),
    ("S", Decimal(10)),
    ("Z", Decimal(0)),
    ("E", Decimal(0)),
]
quietly = settings(deadline=None, max_examples=80)
pairs = st.sampled_from(PAIRS)
percents = st.decimals(0, 60, places=1)
small_sums = st.decimals(0, 30, places=0)


@st.composite
def adjustments(draw: st.DrawFn) -> Adjustment:
    category, rate = draw(pairs)
    if draw(st.booleans()):
        return Adjustment(percent=draw(percents), category=category, rate=rate)
    return Adjustment(amount=draw(small_sums), category=category, rate=rate)


@st.composite
def order_lines(draw: st.DrawFn, *, fewest_units: int = -3) -> Line:
    category, rate = draw(pairs)
    return Line(
        quantity=Decimal(draw(st.integers(fewest_units, 12))),
        unit_price=draw(st.decimals(0, 3000, places=3)),
        base_quantity=Decimal(draw(st.sampled_from([1, 1, 3]))),
        allowances=draw(st.lists(st.builds(Adjustment, percent=percents), max_size=1)),
        category=category,
        rate=rate,
    )


@st.composite
def documents(
    draw: st.DrawFn, *, basis: Literal["net", "gross"] | None = None
) -> Document:
    bases: list[Literal["net", "gross"]] = [basis] if basis else ["net", "gross"]
    return Document(
        currency=draw(st.sampled_from(["EUR", "JPY", "KWD"])),
        price_basis=draw(st.sampled_from(bases)),
        lines=draw(st.lists(order_lines(), min_size=1, max_size=6)),
        allowances=draw(st.lists(adjustments(), max_size=2)),
        charges=draw(st.lists(adjustments(), max_size=2)),
        prepaid=draw(small_sums),
    )


def unit_of(document: Document) -> Fraction:
    return Fraction(1, 10 ** exponent(document.currency))


def negated(document: Document) -> Document:
    def minus(one: Adjustment) -> Adjustment:
        return one if one.amount is None else replace(one, amount=-one.amount)

    return replace(
        document,
        lines=[replace(line, quantity=-line.quantity) for line in document.lines],
        allowances=[minus(one) for one in document.allowances],
        charges=[minus(one) for one in document.charges],
        prepaid=-document.prepaid,
    )


def by_pair(found: Totals) -> dict[tuple[str, Decimal], BreakdownRow]:
    return {(row.category, row.rate): row for row in found.breakdown}


@quietly
@given(documents())
def test_every_total_is_the_sum_of_its_parts(document: Document) -> None:
    found = totals(document)

    rows = found.breakdown
    taxed = found.line_total - found.allowance_total + found.charge_total
    assert sum(found.line_nets) == found.line_total
    assert sum(row.taxable for row in rows) == found.net
    assert sum(row.tax for row in rows) == found.tax
    assert found.net + found.tax == found.gross
    assert taxed == (found.net if document.price_basis == "net" else found.gross)
    assert found.due == found.gross - document.prepaid + document.rounding
    assert len(by_pair(found)) == len(rows)


@quietly
@given(documents())
def test_the_tax_of_a_row_is_within_half_a_unit_of_its_rate(document: Document) -> None:
    for row in totals(document).breakdown:
        rate = Fraction(row.rate)
        if document.price_basis == "net":
            exact = Fraction(row.taxable) * rate / 100
        else:
            exact = Fraction(row.taxable + row.tax) * rate / (100 + rate)
        assert abs(Fraction(row.tax) - exact) <= unit_of(document) / 2
        # A half goes away from zero, never towards it.
        if abs(Fraction(row.tax) - exact) == unit_of(document) / 2:
            assert abs(row.tax) > abs(exact)


@quietly
@given(documents(basis="gross"), st.decimals(0, 40, places=2))
def test_no_rate_of_tax_moves_a_gross_price(document: Document, rate: Decimal) -> None:
    taxed = [replace(line, rate=rate, allowances=()) for line in document.lines]
    untaxed = [replace(line, rate=Decimal(0), allowances=()) for line in document.lines]
    bare = replace(document, allowances=(), charges=())

    with_tax = totals(replace(bare, lines=taxed))
    without = totals(replace(bare, lines=untaxed))

    assert with_tax.gross == without.gross == with_tax.line_total
    assert with_tax.line_nets == without.line_nets


@quietly
@given(documents(), st.randoms(use_true_random=False))
def test_the_order_of_lines_does_not_matter(document: Document, dice: object) -> None:
    shuffled = list(document.lines)
    dice.shuffle(shuffled)  # type: ignore[attr-defined]

    before, after = totals(document), totals(replace(document, lines=shuffled))

    assert replace(after, line_nets=before.line_nets) == before
    assert sorted(after.line_nets) == sorted(before.line_nets)


@quietly
@given(documents())
def test_a_document_the_other_way_round_mirrors_every_figure(
    document: Document,
) -> None:
    found, mirrored = totals(document), totals(negated(document))

    assert [-net for net in mirrored.line_nets] == list(found.line_nets)
    assert -mirrored.due == found.due
    assert {
        pair: (-row.taxable, -row.tax) for pair, row in by_pair(mirrored).items()
    } == {pair: (row.taxable, row.tax) for pair, row in by_pair(found).items()}


@quietly
@given(documents(), st.sampled_from(["JPY", "KWD"]))
def test_figures_are_the_same_in_minor_units_of_any_currency(
    document: Document, currency: str
) -> None:
    scale = Decimal(10) ** (2 - exponent(currency))

    def scaled(one: Adjustment) -> Adjustment:
        return one if one.amount is None else replace(one, amount=one.amount * scale)

    euro = replace(document, currency="EUR", prepaid=Decimal(0))
    other = replace(
        euro,
        currency=currency,
        lines=[
            replace(line, unit_price=line.unit_price * scale) for line in euro.lines
        ],
        allowances=[scaled(one) for one in euro.allowances],
        charges=[scaled(one) for one in euro.charges],
    )

    found, converted = totals(euro), totals(other)

    assert [net * scale for net in found.line_nets] == list(converted.line_nets)
    assert found.tax * scale == converted.tax
    assert found.gross * scale == converted.gross


@st.composite
def orders_with_deposits(draw: st.DrawFn) -> tuple[Document, list[Decimal]]:
    lines = st.lists(order_lines(fewest_units=1), min_size=1, max_size=5)
    order = Document(
        currency=draw(st.sampled_from(["EUR", "JPY", "KWD"])),
        price_basis=draw(st.sampled_from(["net", "gross"])),
        lines=draw(lines),
    )
    parts = st.decimals("0.05", "0.95", places=2)
    return order, draw(st.lists(parts, min_size=1, max_size=3))


@quietly
@given(orders_with_deposits())
def test_deposits_and_balance_add_up_to_the_order_in_every_rate(
    given_order: tuple[Document, list[Decimal]],
) -> None:
    order, parts = given_order
    full = totals(order)
    unit = Decimal(1).scaleb(-exponent(order.currency))
    deposits, left = [], full
    for part in parts:
        asked = (left.gross * part).quantize(unit)
        if asked <= 0:
            continue
        lines = deposit_split(full=left, deposit_gross=asked)
        deposit = totals(
            Document(currency=order.currency, price_basis="gross", lines=lines)
        )
        assert deposit.gross == asked
        deposits.append(deposit)
        left = balance_after_deposits(full=full, deposits=deposits)

    sums = {pair: (row.taxable, row.tax) for pair, row in by_pair(left).items()}
    for deposit in deposits:
        for pair, row in by_pair(deposit).items():
            taxable, tax = sums[pair]
            sums[pair] = taxable + row.taxable, tax + row.tax
    assert sums == {p: (row.taxable, row.tax) for p, row in by_pair(full).items()}
    assert left.gross + sum(one.gross for one in deposits) == full.gross
    assert sum(left.line_nets) == left.line_total
    assert all(row.taxable + row.tax >= 0 for row in left.breakdown)


@quietly
@given(orders_with_deposits())
def test_a_share_of_a_deposit_is_within_a_unit_of_its_exact_share(
    given_order: tuple[Document, list[Decimal]],
) -> None:
    order, (part, *_) = given_order
    full = totals(order)
    unit = Decimal(1).scaleb(-exponent(order.currency))
    asked = (full.gross * part).quantize(unit)
    if asked <= 0:
        return
    found = {
        (one.category, one.rate): Fraction(one.unit_price)
        for one in deposit_split(full=full, deposit_gross=asked)
    }

    for pair, row in by_pair(full).items():
        share = Fraction(row.taxable + row.tax) * Fraction(asked) / Fraction(full.gross)
        assert abs(found.get(pair, 0) - share) < unit_of(order)


@quietly
@given(documents())
def test_net_parts_add_up_to_every_row(document: Document) -> None:
    shown = spread(document)

    for (category, rate), row in by_pair(totals(document)).items():
        plus = [*shown.lines, *shown.charges]
        net = sum(
            (
                part.net
                for part in plus
                if (part.category, part.rate) == (category, rate)
            ),
            -sum(
                part.net
                for part in shown.allowances
                if (part.category, part.rate) == (category, rate)
            ),
        )
        assert net == row.taxable


@quietly
@given(documents(basis="gross"))
def test_a_net_line_is_within_a_unit_of_its_own_net(document: Document) -> None:
    found = totals(document)

    for part, gross in zip(spread(document).lines, found.line_nets, strict=True):
        exact = Fraction(gross) * 100 / (100 + Fraction(part.rate))
        assert abs(Fraction(part.net) - exact) < unit_of(document)
