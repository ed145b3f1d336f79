"""Tax of a period. The sums are worked by hand, line by line, in the comments."""

from dataclasses import replace
from datetime import date
from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from invoicing.books.bases import ACCRUAL, RECEIPT
from invoicing.books.facts import Facts, PaymentFact
from invoicing.books.tax_summary import tax_summary
from tests.invoicing.books.facts_of import (
    CREDIT,
    FACTS,
    INVOICE,
    NEXT,
    NOVEMBER,
    PART,
    QUARTER,
    rate_sum,
)


def test_by_tax_point_a_credit_note_lowers_its_own_period() -> None:
    summary = tax_summary(FACTS, basis=ACCRUAL, **QUARTER)

    # 288.00 - 100.00 at 20%, 79.90 at 10%; of the print house 120.00 three quarters
    # are the studio's: 75.00 and 15.00.
    assert summary.rows(sales=True) == [
        rate_sum(2000, 18_800, 3_760),
        rate_sum(1000, 7_990, 799),
    ]
    assert summary.rows(sales=False) == [rate_sum(2000, 7_500, 1_500)]
    assert (summary.output_minor, summary.input_minor) == (4_559, 1_500)
    assert summary.due_minor == 3_059
    assert tax_summary(FACTS, basis=ACCRUAL, **NEXT).due_minor == 0


def test_by_receipt_a_part_payment_brings_its_share_and_the_last_one_the_rest() -> None:
    # Of 313.49 (188.00 and 37.60 at 20%, 79.90 and 7.99 at 10%) 300.00 come in:
    # 37.60 x 300 / 313.49 = 35.982 and 7.99 x 300 / 313.49 = 7.646.
    october = tax_summary(FACTS, basis=RECEIPT, first=NEXT["first"], last=PART.on)
    assert [line.sums.tax_minor for line in october.lines if line.is_sale] == [
        765,
        3598,
    ]
    assert (
        sum(line.sums.gross_minor for line in october.lines if line.is_sale) == 30_000
    )

    november = tax_summary(FACTS, basis=RECEIPT, first=NOVEMBER, last=NEXT["last"])
    assert [line.sums.tax_minor for line in november.lines] == [34, 162]
    assert tax_summary(FACTS, basis=RECEIPT, **QUARTER).lines == ()


def test_money_that_went_back_takes_its_tax_back() -> None:
    whole = replace(CREDIT, rows=INVOICE.rows)
    paid = replace(PART, on=INVOICE.tax_point_on, shares=(("2026-0001", 43_349),))
    refund = replace(PART, pk=9, shares=(("2026-0001", -43_349),))
    facts = Facts(currency="GBP", papers=(INVOICE, whole), payments=(paid, refund))

    before = tax_summary(facts, basis=RECEIPT, **QUARTER)
    after = tax_summary(facts, basis=RECEIPT, **NEXT)

    assert (before.output_minor, after.output_minor) == (6_559, -6_559)


def test_a_payment_written_down_wrongly_is_taken_back_on_the_day_of_that() -> None:
    wrong = replace(PART, reversed_on=NOVEMBER)
    facts = Facts(currency="GBP", papers=(INVOICE,), payments=(wrong,))

    lines = tax_summary(facts, basis=RECEIPT, **NEXT).lines

    assert {line.on for line in lines} == {PART.on, NOVEMBER}
    assert sum(line.sums.tax_minor for line in lines) == 0


@given(st.lists(st.integers(1, 9_000), min_size=1, max_size=12))
def test_whatever_the_instalments_they_bring_the_tax_of_the_invoice(
    parts: list[int],
) -> None:
    rest = INVOICE.gross_minor - sum(parts)
    paid = [*parts, rest] if rest > 0 else [INVOICE.gross_minor]
    payments = tuple(
        PaymentFact(
            pk=pk,
            party="Brass band",
            on=date(2026, 7, 1 + pk),
            amount_minor=share,
            method="TRANSFER",
            shares=(("2026-0001", share),),
        )
        for pk, share in enumerate(paid)
    )
    facts = Facts(currency="GBP", papers=(INVOICE,), payments=payments)

    summary = tax_summary(facts, basis=RECEIPT, **QUARTER)

    assert summary.rows(sales=True) == list(INVOICE.rows)
    reached = 0
    for payment in payments:
        reached += payment.amount_minor
        brought = sum(
            line.sums.tax_minor for line in summary.lines if line.on <= payment.on
        )
        exact = Fraction(6_559 * reached, INVOICE.gross_minor)
        assert abs(brought - exact) <= 1  # half a cent for each of two rates
