"""A quote's sums as the studio's own pages show them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from typing import Protocol, TypeVar

from invoicing.invoices.content import Content
from invoicing.quotes.models import DepositRule, Quote
from studio.money import Money, sum_money
from studio.profile.models import DepositKind, StudioProfile
from studio.wording import plain_number


class Costed(Protocol):
    """A line, with what one of it costs the studio itself."""

    @property
    def quantity_thousandths(self) -> int:
        """The quantity."""

    @property
    def cost_minor(self) -> int:
        """What one costs."""

    @property
    def optional(self) -> bool:
        """Whether it is an extra."""

    @property
    def package(self) -> str:
        """The package that it belongs to, if it belongs to one."""


_Line = TypeVar("_Line", bound=Costed)


@dataclass(frozen=True, slots=True)
class OwnPlan:
    """What the studio expects to put in: its own time, and costs beside the lines'."""

    minutes: int = 0
    costs_minor: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class QuoteFigures:
    """What a quote comes to, and what is left of it."""

    discount: Money
    before_tax: Money
    tax_rows: tuple[tuple[str, Money], ...]
    tax: Money
    total: Money
    deposit: Money
    deposit_words: str
    rest: Money
    costs: Money
    left: Money
    margin: str
    hours: str
    an_hour: Money | None
    time_worth: Money | None
    beyond: Money | None
    taxed: bool
    gross: bool


def figures_of(quote: Quote) -> QuoteFigures:
    """Return the sums of a quote as it is saved, without its extras.

    Where packages are offered, those of the cheapest.
    """
    every = [figures for _, figures in every_figures_of(quote)]
    return min(every, key=lambda figures: figures.total.minor)


def every_figures_of(quote: Quote) -> list[tuple[str, QuoteFigures]]:
    """Return a quote's sums for each package by its name; one without a name if none
    are offered."""
    lines = quote.lines.all()
    return [
        (
            name,
            figures_from(
                content,
                quote.deposit,
                own_costs(counted_lines(lines, name), quote.currency),
                plan_of(quote),
            ),
        )
        for name, content in quote.contents()
    ]


def plan_of(quote: Quote) -> OwnPlan:
    """Return what the studio expects to put into a quote's job."""
    own = (quote.assistant_cost_minor, quote.travel_cost_minor, quote.other_cost_minor)
    return OwnPlan(quote.planned_minutes, sum(own))


def counted_lines(lines: Iterable[_Line], package: str) -> list[_Line]:
    """Return the lines that are paid for with a package, without extras."""
    return [
        line for line in lines if not line.optional and line.package in {"", package}
    ]


def figures_from(
    content: Content, rule: DepositRule, line_costs: Money, plan: OwnPlan
) -> QuoteFigures:
    """Return the sums of some content, with its deposit and the studio's own costs.

    Tax that the studio hands on is not income; its own hours are no cost of money, so
    what they are worth stands apart.
    """
    totals = content.totals()
    currency = content.currency
    total, before_tax = Money(totals.gross, currency), Money(totals.net, currency)
    deposit = rule.on(total)
    profile = StudioProfile.load()
    costs = line_costs + Money.from_minor(plan.costs_minor, currency)
    left = before_tax - costs
    worth = profile.hour_worth_minor
    time_worth = _for_minutes(Money.from_minor(worth, currency), plan.minutes)
    return QuoteFigures(
        discount=Money(totals.allowance_total, currency),
        before_tax=before_tax,
        tax_rows=tuple(
            (
                f"{profile.tax_name} at {plain_number(row.rate)}%",
                Money(row.tax, currency),
            )
            for row in totals.breakdown
        ),
        tax=Money(totals.tax, currency),
        total=total,
        deposit=deposit,
        deposit_words=_deposit_words(rule, deposit, total),
        rest=total - deposit,
        costs=costs,
        left=left,
        margin=_margin(left, before_tax),
        hours=plain_number(round(Decimal(plan.minutes) / 60, 2)),
        an_hour=(
            Money.rounded(Fraction(left.amount) * 60 / plan.minutes, currency)
            if plan.minutes
            else None
        ),
        time_worth=time_worth if worth and plan.minutes else None,
        beyond=left - time_worth if worth and plan.minutes else None,
        taxed=profile.tax_registered,
        gross=content.price_basis == "gross",
    )


def own_costs(lines: Iterable[Costed], currency: str) -> Money:
    """Return what lines cost the studio itself; extras are left out."""
    return sum_money(
        (
            Money.from_minor(line.cost_minor, currency).times(
                Decimal(line.quantity_thousandths) / 1000
            )
            for line in lines
            if not line.optional
        ),
        currency=currency,
    )


def _for_minutes(hourly: Money, minutes: int) -> Money:
    return Money.rounded(Fraction(hourly.amount) * minutes / 60, hourly.currency)


def _margin(left: Money, of: Money) -> str:
    if of.minor <= 0:
        return ""
    share = Fraction(left.minor, of.minor) * 100
    return f"{round(share)}%"


def _deposit_words(rule: DepositRule, deposit: Money, total: Money) -> str:
    if not deposit.minor:
        return "Nothing before the session"
    if rule.kind == DepositKind.PERCENT:
        return f"{rule.percent}% of the total"
    if total.minor <= 0:
        return "A round sum"
    share = Decimal(deposit.minor) / Decimal(total.minor) * 100
    return f"A round sum, {share:.0f}% of the total"
