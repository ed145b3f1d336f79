"""The books as pages show them: money with its currency, names in words."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Final

from invoicing.books.bases import Bases
from invoicing.books.facts import Facts, RateSum
from invoicing.books.figures import PeriodFigures, figures_of
from invoicing.books.queries import bases_now
from invoicing.books.tax_summary import TaxLine
from invoicing.periods.calendar import Span, before, period_of
from invoicing.periods.models import ClosedPeriod
from invoicing.periods.operations import closed_within
from studio.money import Money
from studio.profile.models import StudioProfile, TaxCategory
from studio.wording import plain_number

NAMES: Final = {
    category.value: category.label
    for category in TaxCategory
    if category not in {TaxCategory.STANDARD, TaxCategory.EXEMPT}
}
"""What bears no tax; papers of earlier days called all of it exempt."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PeriodRow:
    """One period of the list."""

    span: Span
    slug: str
    money_in: Money
    spent: Money
    tax_due: Money
    state: str


@dataclass(frozen=True, slots=True, kw_only=True)
class RateGroup:
    """One rate of the tax table, with the documents that it is made of."""

    name: str
    taxable: Money
    tax: Money
    lines: tuple[ShownLine, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ShownLine:
    """One document under a rate."""

    document: str
    pk: int
    party: str
    on: date
    taxable: Money
    tax: Money
    is_sale: bool
    is_voucher: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class ShownFigures:
    """A period's figures for its page."""

    span: Span
    by_receipt: bool
    sales: tuple[RateGroup, ...]
    purchases: tuple[RateGroup, ...]
    output: Money
    claimed: Money
    due: Money
    money_in: Money
    money_out: Money
    costs: tuple[tuple[str, Money], ...]
    spent: Money
    left: Money


def shown_figures(figures: PeriodFigures) -> ShownFigures:
    """Return a period's figures as its page shows them."""

    def money(minor: int) -> Money:
        return Money.from_minor(minor, figures.currency)

    tax = figures.tax
    return ShownFigures(
        span=figures.span,
        by_receipt=tax.basis == "RECEIPT",
        sales=_groups(figures, sales=True),
        purchases=_groups(figures, sales=False),
        output=money(tax.output_minor),
        claimed=money(tax.input_minor),
        due=money(tax.due_minor),
        money_in=money(figures.money_in_minor),
        money_out=money(figures.money_out_minor),
        costs=tuple((account.label, money(minor)) for account, minor in figures.costs),
        spent=money(figures.spent_minor),
        left=money(figures.left_minor),
    )


def period_rows(
    facts: Facts, profile: StudioProfile, *, on: date, most: int = 16
) -> list[PeriodRow]:
    """Return the periods from the first document to today, the newest first."""
    first = _first_day(facts, on)
    months = profile.period_months
    span = period_of(on, months=months, first_month=profile.period_first_month)
    rows: list[PeriodRow] = []
    bases = bases_now(profile.tax_basis)
    while span.last >= first and len(rows) < most:
        closed = closed_within(span)
        if not _covers(closed, span):
            figures = figures_of(facts, span, bases=bases)
            rows.append(_row(figures, _state(span, closed, on)))
        rows += [_closed_row(facts, one) for one in closed if one.ends_on <= span.last]
        span = before(span, months=months)
    return rows


def _covers(closed: Sequence[ClosedPeriod], span: Span) -> bool:
    """Say whether closed periods hold every day of a span, or reach beyond it."""
    days = sum((one.ends_on - one.starts_on).days + 1 for one in closed)
    return days > (span.last - span.first).days


def _state(span: Span, closed: Sequence[ClosedPeriod], on: date) -> str:
    if closed:
        return "Closed in part"
    return "To close" if span.last < on else "Running"


def _closed_row(facts: Facts, closed: ClosedPeriod) -> PeriodRow:
    """Return the row of a closed period, on the basis that it was closed on."""
    span = Span(closed.starts_on, closed.ends_on)
    return _row(
        figures_of(facts, span, bases=Bases.of_closed(closed.figures)), "Closed"
    )


def _row(figures: PeriodFigures, state: str) -> PeriodRow:
    return PeriodRow(
        span=figures.span,
        slug=figures.span.first.isoformat(),
        money_in=Money.from_minor(figures.money_in_minor, figures.currency),
        spent=Money.from_minor(figures.spent_minor, figures.currency),
        tax_due=Money.from_minor(figures.tax.due_minor, figures.currency),
        state=state,
    )


def _first_day(facts: Facts, on: date) -> date:
    days = [paper.tax_point_on for paper in facts.papers]
    days += [payment.on for payment in facts.payments]
    days += [purchase.bought_on for purchase in facts.purchases]
    return min(days, default=on)


def _groups(figures: PeriodFigures, *, sales: bool) -> tuple[RateGroup, ...]:
    lines = [line for line in figures.tax.lines if line.is_sale is sales]
    return tuple(
        RateGroup(
            name=rate_name(row),
            taxable=Money.from_minor(row.taxable_minor, figures.currency),
            tax=Money.from_minor(row.tax_minor, figures.currency),
            lines=tuple(
                _shown(line, figures.currency)
                for line in lines
                if line.sums.code == row.code
            ),
        )
        for row in figures.tax.rows(sales=sales)
    )


def _shown(line: TaxLine, currency: str) -> ShownLine:
    return ShownLine(
        document=line.document,
        pk=line.pk,
        party=line.party,
        on=line.on,
        taxable=Money.from_minor(line.sums.taxable_minor, currency),
        tax=Money.from_minor(line.sums.tax_minor, currency),
        is_sale=line.is_sale,
        is_voucher=line.is_voucher,
    )


def rate_name(row: RateSum) -> str:
    """Return how a rate is named: 20%, or the category that bears no tax."""
    if not row.rate_basis_points:
        return NAMES.get(row.category, "Without tax")
    return f"{plain_number(Decimal(row.rate_basis_points) / 100)}%"
