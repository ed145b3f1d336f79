"""What an invoice says in figures: lines at prices, kept as plain JSON.

A draft and an issued snapshot hold the same content; `Order` is what was agreed, as
quotes hand it over.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass, replace
from decimal import Decimal
from itertools import groupby
from typing import Any

from invoicing.invoices.states import Purpose
from invoicing.tax import (
    Adjustment,
    BreakdownRow,
    Document,
    Line,
    PriceBasis,
    Totals,
    balance_after_deposits,
    totals,
)
from studio.money import decimal_from_minor, exponent

EXEMPT = "E"
STANDARD = "S"


@dataclass(frozen=True, slots=True, kw_only=True)
class ContentLine:
    """One line: so many of something at a price, at one rate of tax."""

    description: str
    quantity_thousandths: int
    unit_price_minor: int
    tax_rate_basis_points: int = 0
    detail: str = ""
    unit: str = ""
    treatment: str = ""
    """The tax category where it is not told by the rate; such a line bears no tax."""

    @property
    def quantity(self) -> Decimal:
        """The quantity, with up to three decimals."""
        return (Decimal(self.quantity_thousandths) / 1000).normalize()

    @property
    def rate(self) -> Decimal:
        """The tax rate in percent; 0 in every category but the standard one."""
        if self.category != STANDARD:
            return Decimal(0)
        return Decimal(self.tax_rate_basis_points) / 100

    @property
    def category(self) -> str:
        """The tax category: the line's own, else standard by a rate, else exempt."""
        return self.treatment or (STANDARD if self.tax_rate_basis_points else EXEMPT)

    def to_json(self) -> dict[str, Any]:
        """Return the line as plain JSON."""
        return asdict(self)

    def priced(self, currency: str) -> Line:
        """Return the line as the tax core reads it."""
        return Line(
            quantity=self.quantity,
            unit_price=decimal_from_minor(self.unit_price_minor, exponent(currency)),
            category=self.category,
            rate=self.rate,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Deduction:
    """One tax rate's share of an earlier deposit or stage, taken off again."""

    number: str
    issued_on: str
    category: str
    tax_rate_basis_points: int
    taxable_minor: int
    tax_minor: int
    purpose: str = Purpose.DEPOSIT.value

    @property
    def words(self) -> str:
        """What a paper calls it."""
        return f"{Purpose(self.purpose).label}, invoice {self.number}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Content:
    """The lines of a paper, its discount, and the deposits that it takes off."""

    currency: str
    price_basis: PriceBasis
    lines: tuple[ContentLine, ...]
    deductions: tuple[Deduction, ...] = ()
    discount_percent_hundredths: int = 0
    discount_minor: int = 0
    reference: str = ""
    treatment: str = ""
    """What lines that name none of their own are, apart from those told by a rate."""

    def document(self) -> Document:
        """Return the content as the tax core reads it."""
        return Document(
            currency=self.currency,
            price_basis=self.price_basis,
            lines=[line.priced(self.currency) for line in self.lines],
            allowances=self._discounts(),
        )

    def totals(self) -> Totals:
        """Return the figures of the content, deposits taken off per tax rate."""
        full = totals(self.document())
        if not self.deductions:
            return full
        by_number = groupby(self.deductions, key=lambda one: one.number)
        deposits = [deposit_totals(tuple(rows), self.currency) for _, rows in by_number]
        return balance_after_deposits(full=full, deposits=deposits)

    def full_totals(self) -> Totals:
        """Return the figures before any deposit is taken off."""
        return totals(self.document())

    def to_json(self) -> dict[str, Any]:
        """Return the content as plain JSON."""
        written = asdict(self)
        written["lines"] = [asdict(line) for line in self.lines]
        written["deductions"] = [asdict(one) for one in self.deductions]
        return written

    @classmethod
    def from_json(cls, written: Mapping[str, Any]) -> Content:
        """Read content that `to_json` wrote."""
        lines = tuple(ContentLine(**line) for line in written["lines"])
        off = tuple(Deduction(**one) for one in written.get("deductions", ()))
        return cls(**{**written, "lines": lines, "deductions": off})

    @property
    def categories(self) -> frozenset[str]:
        """Every tax category in use."""
        taken_off = (one.category for one in self.deductions)
        return frozenset([*(line.category for line in self.lines), *taken_off])

    def with_lines(self, lines: Sequence[ContentLine]) -> Content:
        """Return the content with other lines."""
        return replace(self, lines=tuple(lines))

    def _discounts(self) -> tuple[Adjustment, ...]:
        if self.discount_percent_hundredths:
            percent = Decimal(self.discount_percent_hundredths) / 100
            return (Adjustment(percent=percent, reason="Discount"),)
        if self.discount_minor:
            digits = exponent(self.currency)
            amount = decimal_from_minor(self.discount_minor, digits)
            return (Adjustment(amount=amount, reason="Discount"),)
        return ()


def deposit_totals(rows: Sequence[Deduction], currency: str) -> Totals:
    """Return the figures of one deposit invoice from its rows."""
    digits = exponent(currency)
    net = sum(row.taxable_minor for row in rows)
    tax = sum(row.tax_minor for row in rows)

    def money(minor: int) -> Decimal:
        return decimal_from_minor(minor, digits)

    return Totals(
        line_nets=tuple(money(row.taxable_minor + row.tax_minor) for row in rows),
        line_total=money(net + tax),
        allowance_total=money(0),
        charge_total=money(0),
        net=money(net),
        tax=money(tax),
        gross=money(net + tax),
        due=money(net + tax),
        breakdown=tuple(
            BreakdownRow(
                category=row.category,
                rate=Decimal(row.tax_rate_basis_points) / 100,
                taxable=money(row.taxable_minor),
                tax=money(row.tax_minor),
            )
            for row in rows
        ),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Order:
    """What a client agreed to: the content, the deposit, and when it is paid."""

    job_id: int
    content: Content
    deposit_minor: int
    deposit_days: int
    payment_days: int
