"""Tax by receipt in the journal, and a change of the basis, worked by hand.

A sale counts on the basis of its own tax point, so that none counts twice after a
change (as Directive 2006/112/EC, article 66(b), and the cash accounting scheme of
UK VAT Notice 731 have it, from memory).
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

from hypothesis import given, settings
from hypothesis import strategies as st

from invoicing.books.accounts import Account
from invoicing.books.bases import ACCRUAL, RECEIPT, Bases
from invoicing.books.facts import Facts, PaperFact, PaymentFact
from invoicing.books.figures import figures_of
from invoicing.books.journal import balances, entries
from invoicing.books.tax_summary import tax_summary
from invoicing.periods.calendar import Span
from tests.invoicing.books.facts_of import CREDIT, FACTS, INVOICE, PART, rate_sum

BY_RECEIPT = Bases.always(RECEIPT)
JANUARY, JULY, OCTOBER = (date(2026, month, 1) for month in (1, 7, 10))
WHOLE = {"first": date(2020, 1, 1), "last": date(2030, 1, 1)}
SALE = replace(INVOICE, rows=(rate_sum(2000, 10_000, 2_000),))


def paid(minor: int, on: date, *, pk: int = 1, method: str = "TRANSFER") -> PaymentFact:
    share = ((SALE.number, minor),)
    return replace(PART, pk=pk, on=on, amount_minor=minor, method=method, shares=share)


def test_tax_waits_apart_until_the_money_comes() -> None:
    # Of 120.00 with 20.00 tax, a quarter comes in October: 5.00 of the tax is due.
    facts = Facts(currency="GBP", papers=(SALE,), payments=(paid(3_000, OCTOBER),))

    made = entries(facts, BY_RECEIPT)

    held = balances(made)
    assert (held[Account.OUTPUT_HELD], held[Account.OUTPUT_TAX]) == (-1_500, -500)
    assert held[Account.SALES] == -10_000
    (due,) = [entry for entry in made if entry.document_type == "tax due"]
    assert (due.key, due.on) == ("D1-20261001", OCTOBER)


def test_a_debt_that_is_given_up_is_a_loss_without_the_tax_on_it() -> None:
    # 30.00 came, 90.00 never does: 15.00 of it would have been tax.
    lost = paid(9_000, OCTOBER + timedelta(days=1), pk=2, method="LOSS")
    payments = (paid(3_000, OCTOBER), lost)
    facts = Facts(currency="GBP", papers=(SALE,), payments=payments)

    held = balances(entries(facts, BY_RECEIPT))

    assert held[Account.LOSSES] == 7_500
    assert held[Account.OUTPUT_TAX] == -500
    assert held.get(Account.OUTPUT_HELD, 0) == held[Account.RECEIVABLE] == 0


def test_tax_of_a_purchase_waits_until_it_is_paid() -> None:
    (bought,) = FACTS.purchases
    later = replace(bought, paid_on=bought.bought_on + timedelta(days=9))

    waiting = balances(
        entries(
            Facts(currency="GBP", purchases=(replace(later, paid_on=None),)), BY_RECEIPT
        )
    )
    done = balances(entries(Facts(currency="GBP", purchases=(later,)), BY_RECEIPT))

    assert waiting[Account.INPUT_HELD] == 1_500 == done[Account.INPUT_TAX]
    assert done[Account.INPUT_HELD] == 0
    assert Account.INPUT_TAX not in waiting


def test_a_sale_that_counted_by_tax_point_does_not_count_again_when_paid() -> None:
    closed = [(date(2026, 9, 30), {"basis": ACCRUAL})]
    bases = Bases.after(closed, RECEIPT)
    facts = Facts(currency="GBP", papers=(SALE,), payments=(paid(12_000, OCTOBER),))

    summary = tax_summary(facts, basis=bases, **WHOLE)

    assert [(line.on, line.sums.tax_minor) for line in summary.lines] == [
        (SALE.tax_point_on, 2_000)
    ]
    assert summary.basis == RECEIPT


def test_what_waits_for_money_counts_when_the_basis_by_receipt_ends() -> None:
    closed = [
        (date(2026, 9, 30), {"basis": RECEIPT, "bases": [["0001-01-01", RECEIPT]]})
    ]
    bases = Bases.after(closed, ACCRUAL)
    early, late = date(2026, 8, 1), date(2026, 11, 1)
    payments = (paid(3_000, early), paid(9_000, late, pk=2))
    note = replace(CREDIT, rows=(rate_sum(2000, 1_000, 200),), tax_point_on=late)
    facts = Facts(currency="GBP", papers=(SALE, note), payments=payments)

    summary = tax_summary(facts, basis=bases, **WHOLE)

    # A quarter when it came, the rest on 1 October, the credit note on its own day.
    assert [(line.on, line.sums.tax_minor) for line in summary.lines] == [
        (early, 500),
        (OCTOBER, 1_500),
        (late, -200),
    ]
    held = balances(entries(facts, bases))
    assert held[Account.OUTPUT_TAX] == -1_800
    assert held[Account.OUTPUT_HELD] == 0


def test_a_closed_period_keeps_the_bases_that_it_was_counted_on() -> None:
    facts = replace(FACTS, papers=FACTS.papers[:1])
    span = Span(JANUARY, date(2026, 12, 31))
    for bases in (Bases.always(ACCRUAL), Bases.always(RECEIPT)):
        kept = figures_of(facts, span, bases=bases).to_json()
        again = figures_of(facts, span, bases=Bases.of_closed(kept)).to_json()
        assert kept == again


def test_a_period_closed_before_tax_was_held_apart_gives_the_same_again() -> None:
    kept = {"basis": RECEIPT, "currency": "GBP"}

    bases = Bases.of_closed(kept)

    assert entries(FACTS, bases) == entries(FACTS, Bases.always(ACCRUAL))
    assert Bases.after([(date(2026, 9, 30), kept)], RECEIPT).holds_tax is False
    assert (
        figures_of(FACTS, Span(JANUARY, OCTOBER), bases=bases).to_json().get("bases")
        is None
    )


days = st.dates(JANUARY, date(2026, 12, 31))
sums = st.integers(1, 9_000)


@st.composite
def stories(draw: st.DrawFn) -> Facts:
    """Draw sales at two rates, in parts paid, credited, given up and taken back."""
    papers: list[PaperFact] = []
    payments: list[PaymentFact] = []
    for number in range(draw(st.integers(1, 3))):
        rows = (
            rate_sum(2000, draw(sums), draw(st.integers(0, 900))),
            rate_sum(1000, draw(sums), draw(st.integers(0, 400))),
        )
        on, name = draw(days), f"2026-{number:04}"
        papers.append(
            replace(INVOICE, pk=number, number=name, tax_point_on=on, rows=rows)
        )
        if draw(st.booleans()):
            note_on = on + timedelta(days=draw(st.integers(0, 90)))
            half = tuple(
                replace(
                    row,
                    taxable_minor=row.taxable_minor // 2,
                    tax_minor=row.tax_minor // 2,
                )
                for row in rows
            )
            papers.append(
                replace(
                    CREDIT,
                    pk=10 + number,
                    number=f"CN-{number}",
                    corrects=name,
                    tax_point_on=note_on,
                    rows=half,
                )
            )
        for _ in range(draw(st.integers(0, 3))):
            minor, came = draw(sums), draw(days)
            back = draw(st.none() | st.integers(0, 60))
            payments.append(
                replace(
                    PART,
                    pk=len(payments) + 1,
                    on=came,
                    amount_minor=minor,
                    method=draw(st.sampled_from(["TRANSFER", "CASH", "LOSS"])),
                    shares=((name, minor),),
                    reversed_on=None if back is None else came + timedelta(days=back),
                )
            )
    return Facts(
        currency="GBP",
        papers=tuple(papers),
        payments=tuple(payments),
        purchases=FACTS.purchases,
    )


@given(stories(), st.lists(days, max_size=3, unique=True), st.booleans())
@settings(max_examples=60, deadline=None)
def test_the_tax_accounts_move_by_what_the_summary_says_on_every_basis(
    facts: Facts, changes: list[date], by_receipt: bool
) -> None:
    order = [ACCRUAL, RECEIPT, ACCRUAL, RECEIPT][by_receipt:]
    steps = zip([date.min, *sorted(changes)], order, strict=False)
    bases = Bases(tuple(steps))

    for first, last in (
        (JANUARY, date(2026, 6, 30)),
        (date(2026, 7, 1), date(2027, 6, 1)),
    ):
        figures = figures_of(facts, Span(first, last), bases=bases)
        moved = balances(figures.entries)
        assert -moved.get(Account.OUTPUT_TAX, 0) == figures.tax.output_minor
        assert moved.get(Account.INPUT_TAX, 0) == figures.tax.input_minor
