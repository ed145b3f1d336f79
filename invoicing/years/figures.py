"""What a year brought and cost, by the day on which money moved.

Plain arithmetic over the facts of the books, in integer minor units. Money counts on
its day; a thing bought counts on the day it was paid, without its private share; a
drive counts at the rate that it was written down with. What the owner takes out or
puts in is neither cost nor income.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import date, timedelta
from enum import Enum
from typing import Final

from invoicing.books.accounts import COSTS, Account
from invoicing.books.facts import Facts, PaymentFact
from invoicing.periods.calendar import Span

INCOME: Final = (
    Account.SALES,
    Account.DEPOSITS,
    Account.ON_ACCOUNT,
    Account.VOUCHERS,
    Account.ROUNDING,
)


class Own(Enum):
    """Money between the business and its owner."""

    OUT = "taken-out"
    PRIVATE = "private-shares"
    IN = "put-in"
    POCKET = "own-pocket"


@dataclass(frozen=True, slots=True, kw_only=True)
class YearLine:
    """One document's part in a figure; what counts is paid less private."""

    figure: Account | Own
    document: str
    kind: str
    pk: int
    party: str
    on: date
    paid_minor: int
    private_minor: int = 0

    @property
    def minor(self) -> int:
        """What counts."""
        return self.paid_minor - self.private_minor


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """One figure of the year with the documents that it is made of."""

    of: Account | Own
    lines: tuple[YearLine, ...]

    @property
    def minor(self) -> int:
        """What it comes to."""
        return sum(line.minor for line in self.lines)

    @property
    def paid_minor(self) -> int:
        """What moved, private shares included."""
        return sum(line.paid_minor for line in self.lines)

    @property
    def private_minor(self) -> int:
        """The private shares taken out of it."""
        return sum(line.private_minor for line in self.lines)


@dataclass(frozen=True, slots=True, kw_only=True)
class YearFigures:
    """Everything that a year comes to."""

    span: Span
    currency: str
    income: tuple[Figure, ...]
    costs: tuple[Figure, ...]
    own: tuple[Figure, ...]

    @property
    def income_minor(self) -> int:
        """All money that came in, less what went back."""
        return sum(figure.minor for figure in self.income)

    @property
    def costs_minor(self) -> int:
        """All costs of the business."""
        return sum(figure.minor for figure in self.costs)

    @property
    def profit_minor(self) -> int:
        """What the year left; below zero, a loss."""
        return self.income_minor - self.costs_minor

    @property
    def figures(self) -> tuple[Figure, ...]:
        """All figures in the order of the page."""
        return self.income + self.costs + self.own


def year_of(on: date, *, month: int, day: int) -> Span:
    """Return the year in which a day lies, where one begins on `day` of `month`.

    Errors: ValueError for a day that not every year has.
    """
    first = date(on.year, month, day)
    if (month, day) == (2, 29):
        raise ValueError("29 February is not in every year")
    if first > on:
        first = first.replace(year=first.year - 1)
    return Span(first, first.replace(year=first.year + 1) - timedelta(days=1))


def year_figures(facts: Facts, span: Span) -> YearFigures:
    """Return the figures of one year."""
    lines = [line for line in _lines(facts) if span.first <= line.on <= span.last]

    def figures(kinds: Iterable[Account | Own]) -> tuple[Figure, ...]:
        found = (
            Figure(of=kind, lines=tuple(one for one in lines if one.figure is kind))
            for kind in kinds
        )
        return tuple(figure for figure in found if figure.lines)

    return YearFigures(
        span=span,
        currency=facts.currency,
        income=figures(INCOME),
        costs=figures(COSTS),
        own=figures(Own),
    )


def _lines(facts: Facts) -> list[YearLine]:
    ahead = {paper.number for paper in facts.papers if paper.is_ahead}
    lines = [*_costs(facts), *_own(facts)]
    for payment in facts.payments:
        if not payment.moves_money:
            continue
        lines += _income(payment, ahead)
    return sorted(lines, key=lambda line: (line.on, line.kind, line.pk))


def _income(payment: PaymentFact, ahead: set[str]) -> Iterator[YearLine]:
    """Yield what came in, and what later only went from one figure to another."""
    for number, figure, on, minor in _steps(payment):
        line = YearLine(
            figure=Account.DEPOSITS if number in ahead else figure,
            document=number or payment.number,
            kind="payment",
            pk=payment.pk,
            party=payment.party,
            on=on,
            paid_minor=minor,
        )
        yield line
        if back_on := payment.reversed_on:
            kind = "payment taken back"
            yield replace(line, on=back_on, kind=kind, paid_minor=-minor)


def _steps(payment: PaymentFact) -> Iterator[tuple[str, Account, date, int]]:
    for number, minor in payment.shares:
        yield number, Account.SALES, payment.on, minor
    if payment.rounding_minor:
        yield "", Account.ROUNDING, payment.on, -payment.rounding_minor
    if payment.is_redemption:
        yield "", Account.VOUCHERS, payment.on, -payment.amount_minor
    elif rest := payment.unallocated_minor:
        loose = Account.VOUCHERS if payment.sells_voucher else Account.ON_ACCOUNT
        yield "", loose, payment.on, rest
    for move in payment.moves:
        yield move.number, Account.SALES, move.on, move.minor
        yield "", Account.ON_ACCOUNT, move.on, -move.minor


def _costs(facts: Facts) -> Iterator[YearLine]:
    for one in facts.purchases:
        if one.paid_on is None:
            continue
        private = one.private_minor + one.private_tax_minor
        line = YearLine(
            figure=Account(one.kind),
            document=one.number,
            kind="purchase",
            pk=one.pk,
            party=one.supplier,
            on=one.paid_on,
            paid_minor=one.gross_minor,
            private_minor=private,
        )
        yield line
        if one.paid_from == "OWN":
            yield replace(
                line, figure=Own.POCKET, paid_minor=line.minor, private_minor=0
            )
        elif private:
            yield replace(line, figure=Own.PRIVATE, paid_minor=private, private_minor=0)


def _own(facts: Facts) -> Iterator[YearLine]:
    for move in facts.own:
        yield YearLine(
            figure=Own.IN if move.amount_minor > 0 else Own.OUT,
            document=move.number,
            kind="own money",
            pk=move.pk,
            party=move.note,
            on=move.on,
            paid_minor=abs(move.amount_minor),
        )
