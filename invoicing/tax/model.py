"""What the totals are worked out from, and what comes out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Context, Decimal
from fractions import Fraction
from typing import Final, Literal, get_args

from studio.money import exact_figure, exponent

PriceBasis = Literal["net", "gross"]
# A tax category and a rate: every sum of tax is kept by these two.
Pair = tuple[str, Decimal]

_WIDE: Final = Context(prec=100)


@dataclass(frozen=True, slots=True, kw_only=True)
class Adjustment:
    """An allowance or a charge: a sum of money, or a percentage of a base.

    A percentage without a base is of the line's rounded quantity times price; on a
    document, of the line sum of its category and rate. On a document without a
    category it concerns every pair in use: a percentage makes one adjustment per pair,
    a sum is shared over them by their line sums, largest remainder.
    Sums finer than the currency are rounded, half away from zero.
    """

    amount: Decimal | None = None
    percent: Decimal | None = None
    base: Decimal | None = None
    category: str | None = None
    rate: Decimal = Decimal(0)
    reason: str = ""

    def __post_init__(self) -> None:
        if (self.amount is None) == (self.percent is None):
            raise ValueError(
                f"give exactly one of amount ({self.amount}) and "
                f"percent ({self.percent})"
            )
        if self.base is not None and self.percent is None:
            raise ValueError(f"base {self.base} needs a percent")
        for name in ("amount", "percent", "base"):
            if getattr(self, name) is not None:
                _keep_figure(self, name)
        _keep_rate(self)
        if self.category is not None:
            _refuse_nameless(self.category)

    @property
    def pair(self) -> Pair | None:
        """The category and rate that the adjustment names, if it names one."""
        return None if self.category is None else (self.category, self.rate)


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """So much of something at a price for `base_quantity` of it.

    A return has a negative quantity; a price is never negative (EN 16931, BR-27).
    """

    quantity: Decimal
    unit_price: Decimal
    base_quantity: Decimal = Decimal(1)
    allowances: Sequence[Adjustment] = ()
    charges: Sequence[Adjustment] = ()
    category: str = "S"
    rate: Decimal = Decimal(0)

    def __post_init__(self) -> None:
        for name in ("quantity", "unit_price", "base_quantity"):
            _keep_figure(self, name)
        if self.unit_price < 0:
            raise ValueError(
                f"unit_price {self.unit_price} is negative: make the quantity negative"
            )
        if self.base_quantity <= 0:
            raise ValueError(f"base_quantity {self.base_quantity} is not above 0")
        _keep_rate(self)
        _refuse_nameless(self.category)
        for name in ("allowances", "charges"):
            _keep_tuple(self, name)
        for adjustment in (*self.allowances, *self.charges):
            if adjustment.pair not in (None, self.pair):
                raise ValueError(f"{adjustment.pair} differs from its line {self.pair}")

    @property
    def pair(self) -> Pair:
        """The category and rate of the line."""
        return self.category, self.rate


@dataclass(frozen=True, slots=True, kw_only=True)
class Document:
    """A quote, an invoice or a credit note, as far as its figures go.

    `prepaid` is taken off the sum due and `rounding` added to it (EN 16931, BT-113
    and BT-114); both are money that moves, so neither may be finer than the currency.
    """

    currency: str
    price_basis: PriceBasis
    lines: Sequence[Line]
    allowances: Sequence[Adjustment] = ()
    charges: Sequence[Adjustment] = ()
    prepaid: Decimal = Decimal(0)
    rounding: Decimal = Decimal(0)

    def __post_init__(self) -> None:
        if self.price_basis not in get_args(PriceBasis):
            raise ValueError(f"price_basis {self.price_basis!r} is not net or gross")
        for name in ("lines", "allowances", "charges"):
            _keep_tuple(self, name)
        for name in ("prepaid", "rounding"):
            _keep_figure(self, name)
            minor = Fraction(getattr(self, name)) * 10 ** exponent(self.currency)
            if minor.denominator != 1:
                raise ValueError(
                    f"{name} {getattr(self, name)} is finer than {self.currency} allows"
                )
        for adjustment in (*self.allowances, *self.charges):
            if adjustment.category is None and adjustment.rate:
                raise ValueError(f"rate {adjustment.rate} needs a category")


@dataclass(frozen=True, slots=True, kw_only=True)
class BreakdownRow:
    """The taxable sum of one category and rate, and the tax on it."""

    category: str
    rate: Decimal
    taxable: Decimal
    tax: Decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class Totals:
    """The figures of a document, each with all the digits of its currency.

    On a gross basis `line_nets`, `line_total`, `allowance_total` and `charge_total`
    include the tax. The breakdown is in falling order of rate, then by category.
    """

    line_nets: tuple[Decimal, ...]
    line_total: Decimal
    allowance_total: Decimal
    charge_total: Decimal
    net: Decimal
    tax: Decimal
    gross: Decimal
    due: Decimal
    breakdown: tuple[BreakdownRow, ...]


def plain_rate(rate: Decimal) -> Decimal:
    """Return a rate in its shortest form, so that 25 and 25.00 look like one."""
    shortest = rate.copy_abs().normalize(_WIDE)
    whole = shortest.to_integral_value()
    return whole.quantize(Decimal(1), context=_WIDE) if shortest == whole else shortest


def row_order(pair: Pair) -> tuple[Decimal, str]:
    """Return the sort key of a breakdown: the highest rate first, then by category."""
    category, rate = pair
    return rate.copy_negate(), category


def _keep_figure(holder: object, name: str) -> None:
    value = getattr(holder, name)
    if isinstance(value, Fraction):
        raise ValueError(f"{name} {value} is not a decimal number")  # noqa: TRY004
    exact_figure(value, name)
    object.__setattr__(holder, name, Decimal(value))


def _keep_rate(holder: Line | Adjustment) -> None:
    _keep_figure(holder, "rate")
    if holder.rate < 0:
        raise ValueError(f"rate {holder.rate} is negative")
    object.__setattr__(holder, "rate", plain_rate(holder.rate))


def _keep_tuple(holder: object, name: str) -> None:
    object.__setattr__(holder, name, tuple(getattr(holder, name)))


def _refuse_nameless(category: object) -> None:
    if not isinstance(category, str) or not category:
        raise ValueError(f"category {category!r} is not a code")
