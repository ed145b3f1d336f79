"""What credit notes take back, worked by hand and over many random ones."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from invoicing.einvoices.terms import terms_of
from invoicing.invoices.content import Content, ContentLine, Deduction
from invoicing.invoices.credited import Credited, CreditError, Piece, Row
from invoicing.invoices.crediting import CreditNote, part, whole
from invoicing.invoices.snapshots import totals_json
from invoicing.tax import PriceBasis, Totals
from invoicing.tax.model import Pair, plain_rate
from invoicing.tax.parts import tax_minor
from tests.invoicing.einvoices.cases import paper
from tests.make_invoicing import make_line

TWENTY: Pair = ("S", Decimal(20))


def billed(
    *lines: ContentLine, basis: PriceBasis = "net", **fields: object
) -> Credited:
    values = {"currency": "EUR", "price_basis": basis, "lines": lines} | fields
    content = Content(**values)  # type: ignore[arg-type]
    return Credited(content=content, rows=rows_of(content.totals()))


def rows_of(totals: Totals) -> dict[Pair, Row]:
    return {
        (row.category, plain_rate(row.rate)): (
            int(row.taxable * 100),
            int(row.tax * 100),
        )
        for row in totals.breakdown
    }


def after(credited: Credited, note: CreditNote) -> Credited:
    return replace(
        credited,
        before=[*credited.before, rows_of(note.totals)],
        lines_before=[*credited.lines_before, note.lines],
    )


def test_one_of_three_prints_is_taken_back_at_its_rate() -> None:
    # 3 x 33.33 at 20 %: 99.99 and 20.00 of tax. Two that stay are 66.66 and 13.33
    # (13.332), so one brings 6.67 back (worked by hand).
    credited = billed(make_line(3_333, quantity_thousandths=3000))

    note = part(credited, [Piece(line=0, quantity_thousandths=1000)])

    assert rows_of(note.totals) == {TWENTY: (3_333, 667)}
    assert after(credited, note).left == {TWENTY: (6_666, 1_333)}


def test_a_lower_price_is_credited_for_all_that_were_billed() -> None:
    # 4 hours at 90.00 should have been 75.50: 4 x 14.50 = 58.00 and 11.60 of tax.
    credited = billed(make_line(9_000, quantity_thousandths=4000))

    note = part(credited, [Piece(line=0, new_price_minor=7_550)])

    assert rows_of(note.totals) == {TWENTY: (5_800, 1_160)}
    (line,) = note.content.lines
    assert line.detail == "price €90.00, right €75.50"


def test_a_sum_with_the_tax_in_it_keeps_the_sum() -> None:
    # 99.99 with 20 % in it holds 16.67; of 50.01 that stay 8.34 (8.335) is tax.
    credited = billed(make_line(9_999), basis="gross")

    note = part(credited, [Piece(line=0, amount_minor=4_998)])

    assert rows_of(note.totals) == {TWENTY: (4_165, 833)}
    assert after(credited, note).left == {TWENTY: (4_167, 834)}


def test_a_line_takes_its_share_of_the_discount_along() -> None:
    # 10 % off: 1 of 2 lines of 50.00 is worth 45.00.
    credited = billed(
        make_line(5_000), make_line(5_000), discount_percent_hundredths=1000
    )

    note = part(credited, [Piece(line=0, quantity_thousandths=1000)])

    assert rows_of(note.totals) == {TWENTY: (4_500, 900)}
    assert [line.description for line in note.content.lines] == [
        "Session",
        "Discount on it",
    ]


def test_the_last_line_takes_the_rounding_of_the_discount() -> None:
    # 10 % off 99.99 is 10.00, but three times 3.33: the last one is 29.99.
    line = make_line(3_333)
    credited = billed(line, line, line, discount_percent_hundredths=1000)

    taken = []
    for place in range(3):
        note = part(credited, [Piece(line=place, quantity_thousandths=1000)])
        taken.append(rows_of(note.totals)[TWENTY][0])
        credited = after(credited, note)

    assert taken == [3_000, 3_000, 2_999]
    assert credited.is_spent


@pytest.mark.parametrize(
    ("piece", "words"),
    [
        (Piece(line=0, quantity_thousandths=3000), "2 were billed"),
        (Piece(line=0, new_price_minor=5_000), "not lower than what was billed"),
        (Piece(line=0, amount_minor=10_001), "€100.00 is left of it"),
        (Piece(line=0), "2 were billed"),
    ],
)
def test_more_than_was_billed_is_refused(piece: Piece, words: str) -> None:
    credited = billed(make_line(5_000, quantity_thousandths=2000))

    with pytest.raises(CreditError, match=words):
        part(credited, [piece])


def test_what_a_deposit_took_off_is_taken_back_from_the_deposit() -> None:
    off = Deduction(
        number="2026-0001",
        issued_on="2026-06-01",
        category="S",
        tax_rate_basis_points=2000,
        taxable_minor=4_168,
        tax_minor=834,
    )
    credited = billed(make_line(10_002), basis="gross", deductions=(off,))

    with pytest.raises(CreditError, match=r"Only €50\.00 is left to take back at 20%"):
        part(credited, [Piece(line=0, quantity_thousandths=1000)])
    note = part(credited, [Piece(line=0, amount_minor=5_000)])

    # All that is left is the whole: the deposit is owed as work to come again.
    assert note.takes_all
    assert note.content.deductions == (off,)
    assert rows_of(note.totals) == {TWENTY: (4_167, 833)}


LINES = st.builds(
    make_line,
    st.integers(1, 99_999),
    st.sampled_from([0, 550, 1900, 2000, 2100]),
    quantity_thousandths=st.integers(1, 5_000),
)
BASES: st.SearchStrategy[PriceBasis] = st.sampled_from(["net", "gross"])


@settings(max_examples=40)
@given(st.data(), st.lists(LINES, min_size=1, max_size=4), BASES, st.integers(0, 3000))
def test_an_invoice_and_its_credit_notes_come_to_what_is_left(
    data: st.DataObject, lines: list[ContentLine], basis: PriceBasis, discount: int
) -> None:
    credited = billed(*lines, basis=basis, discount_percent_hundredths=discount)
    for _ in range(4):
        place = data.draw(st.integers(0, len(lines) - 1))
        if credited.lines_left[place] <= 0:
            continue
        sum_ = data.draw(st.integers(1, credited.lines_left[place]))
        try:
            note = part(credited, [Piece(line=place, amount_minor=sum_)])
        except CreditError:
            assert discount  # its rounding left a cent less than the lines
            continue
        assert_fits(credited, note)
        credited = after(credited, note)
        assert_sound(credited)
    if not credited.is_spent:
        note = whole(credited)
        assert_fits(credited, note)
        credited = after(credited, note)

    assert not any(map(any, credited.left.values()))
    assert credited.is_spent


def assert_sound(credited: Credited) -> None:
    """What is left is never below nothing, and is taxed as if it had been billed."""
    basis = credited.content.price_basis
    for pair, (taxable, tax) in credited.left.items():
        on_paper = taxable + tax if basis == "gross" else taxable
        assert taxable >= 0
        assert tax == tax_minor(taxed=on_paper, pair=pair, price_basis=basis)


def assert_fits(credited: Credited, note: CreditNote) -> None:
    """The note's lines come to its sums, on paper and in the data of EN 16931."""
    snapshot = paper(
        series="CREDIT_NOTE",
        purpose="CREDIT",
        format=2,
        credited={str(line): minor for line, minor in note.lines.items()},
    ) | {"content": note.content.to_json(), "totals": totals_json(note.totals)}
    terms = terms_of(snapshot)
    by_lines = sum(Decimal(one["BT-131"]) for one in terms["BG-25"])
    discounts = sum(Decimal(one["amount"]) for one in terms["BG-20"])
    assert by_lines - discounts == note.totals.net
    assert all(row.taxable >= 0 and row.tax >= 0 for row in note.totals.breakdown)
