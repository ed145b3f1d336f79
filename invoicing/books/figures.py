"""The figures of a period: shown, frozen at its closing, and checked later."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from invoicing.books.accounts import COSTS, Account
from invoicing.books.bases import Bases
from invoicing.books.facts import Facts, RateSum
from invoicing.books.journal import balances, entries, within
from invoicing.books.postings import Entry
from invoicing.books.tax_summary import TaxSummary, tax_summary
from invoicing.periods.calendar import Span


@dataclass(frozen=True, slots=True, kw_only=True)
class PeriodFigures:
    """What a period comes to: its tax, and what came in and went out."""

    span: Span
    currency: str
    bases: Bases
    tax: TaxSummary
    entries: tuple[Entry, ...]
    money_in_minor: int
    money_out_minor: int
    costs: tuple[tuple[Account, int], ...]
    """What was spent in the period, by kind, on the day on which it was paid."""

    @property
    def bears_tax(self) -> bool:
        """Whether any line has a rate or tax; a studio outside of tax has none."""
        sums = [line.sums for line in self.tax.lines]
        return any(one.rate_basis_points or one.tax_minor for one in sums)

    @property
    def spent_minor(self) -> int:
        """The costs of the business that were paid in the period."""
        return sum(minor for _, minor in self.costs)

    @property
    def left_minor(self) -> int:
        """What the period left: money from clients less costs that were paid."""
        return self.money_in_minor - self.money_out_minor - self.spent_minor

    def to_json(self) -> dict[str, Any]:
        """Return what a closed period keeps; a later run must give the same."""
        by_receipt = self.bases.are_by_receipt and self.bases.holds_tax
        return {
            "currency": self.currency,
            "basis": self.tax.basis,
            **({"bases": self.bases.written()} if by_receipt else {}),
            "sales": _rows(self.tax.rows(sales=True)),
            "purchases": _rows(self.tax.rows(sales=False)),
            "output_minor": self.tax.output_minor,
            "input_minor": self.tax.input_minor,
            "due_minor": self.tax.due_minor,
            "money_in_minor": self.money_in_minor,
            "money_out_minor": self.money_out_minor,
            "costs": {account.value: minor for account, minor in self.costs},
            "accounts": {
                account.value: minor
                for account, minor in sorted(balances(self.entries).items())
            },
        }


def figures_of(facts: Facts, span: Span, *, bases: Bases) -> PeriodFigures:
    """Return the figures of a period, its tax on the bases of its days."""
    moved = [one for one in _moved(facts) if span.first <= one[0] <= span.last]
    costs: dict[Account, int] = {}
    for one in facts.purchases:
        if one.paid_on and span.first <= one.paid_on <= span.last:
            account = Account(one.kind)
            costs[account] = costs.get(account, 0) + one.cost_minor
    return PeriodFigures(
        span=span,
        currency=facts.currency,
        bases=bases,
        tax=tax_summary(facts, basis=bases, first=span.first, last=span.last),
        entries=tuple(within(entries(facts, bases), span.first, span.last)),
        money_in_minor=sum(minor for _, minor in moved if minor > 0),
        money_out_minor=-sum(minor for _, minor in moved if minor < 0),
        costs=tuple((account, costs[account]) for account in COSTS if account in costs),
    )


def _moved(facts: Facts) -> Iterable[tuple[Any, int]]:
    for payment in facts.payments:
        if not payment.moves_money:
            continue
        yield payment.on, payment.amount_minor
        if payment.reversed_on:
            yield payment.reversed_on, -payment.amount_minor


def _rows(rows: Iterable[RateSum]) -> list[list[Any]]:
    return [[row.code, row.taxable_minor, row.tax_minor] for row in rows]
