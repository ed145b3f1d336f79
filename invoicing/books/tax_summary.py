"""The tax of a period: by tax point, or by the day on which money moved.

A voucher taxed at its sale brings its tax on that day, on either basis; what it pays
of an invoice later takes as much out again.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date

from invoicing.books.bases import Bases
from invoicing.books.by_receipt import claimed_on, held_papers, receipt_steps
from invoicing.books.facts import (
    Facts,
    PaperFact,
    PaymentFact,
    PurchaseFact,
    RateSum,
    summed,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class TaxLine:
    """What one document brings to a period; `document` says how lists name it."""

    is_sale: bool
    is_voucher: bool = False
    document: str
    pk: int
    party: str
    on: date
    sums: RateSum


@dataclass(frozen=True, slots=True, kw_only=True)
class TaxSummary:
    """The lines of a period, with their sums."""

    basis: str
    first: date
    last: date
    lines: tuple[TaxLine, ...]

    @property
    def output_minor(self) -> int:
        """The tax on what was sold."""
        return sum(line.sums.tax_minor for line in self.lines if line.is_sale)

    @property
    def input_minor(self) -> int:
        """The tax claimed back on what was bought."""
        return sum(line.sums.tax_minor for line in self.lines if not line.is_sale)

    @property
    def due_minor(self) -> int:
        """What is to be paid; below zero, what comes back."""
        return self.output_minor - self.input_minor

    def rows(self, *, sales: bool) -> list[RateSum]:
        """Return one row for each category and rate, the highest rate first."""
        return summed(line.sums for line in self.lines if line.is_sale is sales)


def tax_summary(
    facts: Facts, *, basis: str | Bases, first: date, last: date
) -> TaxSummary:
    """Return the tax of a period, `first` and `last` included.

    `basis` is one for all days, or the bases by day.
    """
    bases = Bases.always(basis) if isinstance(basis, str) else basis
    sold = [*_by_tax_point(facts.papers, bases), *_by_receipt(facts, bases)]
    bought = _bought(facts.purchases, bases)
    lines = [*sold, *_vouchers(facts.payments), *bought]
    kept = [line for line in lines if first <= line.on <= last]
    kept.sort(key=lambda line: (line.on, line.document, line.sums.code))
    return TaxSummary(basis=bases.on(last), first=first, last=last, lines=tuple(kept))


def _by_tax_point(papers: Sequence[PaperFact], bases: Bases) -> Iterator[TaxLine]:
    held = held_papers(papers, bases)
    for paper in papers:
        for row in paper.rows if paper.number not in held else ():
            yield _line(paper, paper.tax_point_on, _times(row, paper.sign))


def _by_receipt(facts: Facts, bases: Bases) -> Iterator[TaxLine]:
    for step in receipt_steps(facts, bases):
        for row in step.due:
            yield _line(step.paper, step.on, row)


def _line(paper: PaperFact, on: date, sums: RateSum) -> TaxLine:
    return TaxLine(
        is_sale=True,
        document=paper.number,
        pk=paper.pk,
        party=paper.party,
        on=on,
        sums=sums,
    )


def _vouchers(payments: Iterable[PaymentFact]) -> Iterator[TaxLine]:
    for payment in payments:
        if payment.voucher_tax is None:
            continue
        sign = 1 if payment.sells_voucher else -1
        line = TaxLine(
            is_sale=True,
            is_voucher=True,
            document=payment.voucher,
            pk=payment.pk,
            party=payment.party,
            on=payment.on,
            sums=_times(payment.voucher_tax, sign),
        )
        yield line
        if payment.reversed_on:
            back = _times(payment.voucher_tax, -sign)
            yield replace(line, on=payment.reversed_on, sums=back)


def _bought(purchases: Iterable[PurchaseFact], bases: Bases) -> Iterator[TaxLine]:
    for purchase in purchases:
        on = claimed_on(purchase, bases)
        if on is None or not purchase.claimed_minor:
            continue
        yield TaxLine(
            is_sale=False,
            document=purchase.number,
            pk=purchase.pk,
            party=purchase.supplier,
            on=on,
            sums=RateSum(
                category="S",
                rate_basis_points=purchase.rate_basis_points,
                taxable_minor=purchase.cost_minor,
                tax_minor=purchase.claimed_minor,
            ),
        )


def _times(row: RateSum, sign: int) -> RateSum:
    return replace(
        row, taxable_minor=sign * row.taxable_minor, tax_minor=sign * row.tax_minor
    )
