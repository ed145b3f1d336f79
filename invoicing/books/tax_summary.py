"""The tax of a period: by tax point, or by the day on which money moved.

A voucher taxed at its sale brings its tax on that day, on either basis; what it pays
of an invoice later takes as much out again. By receipt, a part payment brings the tax
in the same share as it pays of the paper, cumulated and rounded at each step, so that
the last payment clears to the cent.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction
from typing import Final, NamedTuple

from invoicing.books.facts import Facts, PaperFact, PaymentFact, PurchaseFact, RateSum
from studio.money import allocate, round_minor

ACCRUAL: Final = "ACCRUAL"
RECEIPT: Final = "RECEIPT"


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


class _Key(NamedTuple):
    category: str
    rate_basis_points: int


def tax_summary(facts: Facts, *, basis: str, first: date, last: date) -> TaxSummary:
    """Return the tax of a period, `first` and `last` included."""
    sold = _by_receipt(facts) if basis == RECEIPT else _by_tax_point(facts.papers)
    bought = _bought(facts.purchases, by_payment=basis == RECEIPT)
    lines = [*sold, *_vouchers(facts.payments), *bought]
    kept = [line for line in lines if first <= line.on <= last]
    kept.sort(key=lambda line: (line.on, line.document, line.sums.code))
    return TaxSummary(basis=basis, first=first, last=last, lines=tuple(kept))


def summed(sums: Iterable[RateSum]) -> list[RateSum]:
    """Return sums by category and rate, the highest rate first."""
    found: dict[_Key, list[int]] = defaultdict(lambda: [0, 0])
    for one in sums:
        both = found[_Key(one.category, one.rate_basis_points)]
        both[0] += one.taxable_minor
        both[1] += one.tax_minor
    rows = [
        RateSum(**key._asdict(), taxable_minor=taxable, tax_minor=tax)
        for key, (taxable, tax) in found.items()
    ]
    return sorted(rows, key=lambda row: (-row.rate_basis_points, row.category))


def _by_tax_point(papers: Iterable[PaperFact]) -> Iterator[TaxLine]:
    for paper in papers:
        for row in paper.rows:
            yield _line(paper, paper.tax_point_on, _times(row, paper.sign))


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


def _bought(
    purchases: Iterable[PurchaseFact], *, by_payment: bool
) -> Iterator[TaxLine]:
    for purchase in purchases:
        on = purchase.paid_on if by_payment else purchase.bought_on
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


def _by_receipt(facts: Facts) -> Iterator[TaxLine]:
    credits_of: dict[str, list[PaperFact]] = defaultdict(list)
    for paper in facts.papers:
        if paper.corrects:
            credits_of[paper.corrects].append(paper)
    received = _received(facts.payments)
    for paper in facts.papers:
        if not paper.corrects:
            yield from _paid(paper, credits_of[paper.number], received[paper.number])


def _received(payments: Iterable[PaymentFact]) -> dict[str, list[tuple[date, int]]]:
    received: dict[str, list[tuple[date, int]]] = defaultdict(list)
    for payment in payments:
        if payment.is_loss:
            continue
        for on, number, minor in payment.settled():
            received[number].append((on, minor))
    return received


def _paid(
    paper: PaperFact, taken_back: list[PaperFact], received: list[tuple[date, int]]
) -> Iterator[TaxLine]:
    """Yield what each payment brings, and what a refund takes back.

    A credit note lowers what the invoice is worth from its day on; money that is
    back with the client by then brings nothing any more.
    """
    before = [replace(row, taxable_minor=0, tax_minor=0) for row in paper.rows]
    paid = 0
    for on, share in sorted(received):
        paid += share
        known = [note for note in taken_back if note.tax_point_on <= on]
        now = _brought(_worth(paper, known), paid)
        for old, new in zip(before, now, strict=True):
            step = replace(
                new,
                taxable_minor=new.taxable_minor - old.taxable_minor,
                tax_minor=new.tax_minor - old.tax_minor,
            )
            if step.taxable_minor or step.tax_minor:
                yield _line(paper, on, step)
        before = now


def _worth(paper: PaperFact, taken_back: list[PaperFact]) -> list[RateSum]:
    off = {row.code: row for row in summed(r for note in taken_back for r in note.rows)}
    return [_less(row, off.get(row.code)) for row in paper.rows]


def _less(row: RateSum, off: RateSum | None) -> RateSum:
    if off is None:
        return row
    return replace(
        row,
        taxable_minor=row.taxable_minor - off.taxable_minor,
        tax_minor=row.tax_minor - off.tax_minor,
    )


def _brought(worth: list[RateSum], paid: int) -> list[RateSum]:
    total = sum(row.gross_minor for row in worth)
    if total <= 0:
        return [replace(row, taxable_minor=0, tax_minor=0) for row in worth]
    reached = min(paid, total)
    parts = allocate(reached, [row.gross_minor for row in worth])
    taxes = [round_minor(Fraction(row.tax_minor * reached, total), 0) for row in worth]
    return [
        replace(row, taxable_minor=part - tax, tax_minor=tax)
        for row, part, tax in zip(worth, parts, taxes, strict=True)
    ]


def _times(row: RateSum, sign: int) -> RateSum:
    return replace(
        row, taxable_minor=sign * row.taxable_minor, tax_minor=sign * row.tax_minor
    )
