"""A quote's sums as the studio's own pages show them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from typing import Protocol

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
    taxed: bool
    gross: bool


def figures_of(quote: Quote) -> QuoteFigures:
    """Return the sums of a quote as it is saved, without its extras."""
    content = quote.content()
    costs = own_costs(quote.lines.all(), quote.currency)
    return figures_from(content, quote.deposit, costs)


def figures_from(content: Content, rule: DepositRule, costs: Money) -> QuoteFigures:
    """Return the sums of some content, with its deposit and the studio's own costs."""
    totals = content.totals()
    currency = content.currency
    total, before_tax = Money(totals.gross, currency), Money(totals.net, currency)
    deposit = rule.on(total)
    profile = StudioProfile.load()
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
        left=before_tax - costs,
        taxed=profile.tax_registered,
        gross=content.price_basis == "gross",
    )


def own_costs(lines: Iterable[Costed], currency: str) -> Money:
    """Return what the lines that are not extras cost the studio itself."""
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


def _deposit_words(rule: DepositRule, deposit: Money, total: Money) -> str:
    if not deposit.minor:
        return "Nothing before the session"
    if rule.kind == DepositKind.PERCENT:
        return f"{rule.percent}% of the total"
    if total.minor <= 0:
        return "A round sum"
    share = Decimal(deposit.minor) / Decimal(total.minor) * 100
    return f"A round sum, {share:.0f}% of the total"
