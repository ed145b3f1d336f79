"""The parts of a document in whole minor units, each rounded by itself.

Source: EN 16931-1:2017, BR-CO-10 to BR-CO-17 and the BR-S, BR-Z, BR-E ... groups, and
"the different parts of the calculation must be rounded separately" of the guide to
Peppol BIS Billing 3.0.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import chain

from invoicing.tax.model import Adjustment, Document, Line, Pair, PriceBasis, row_order
from studio.money import allocate, exponent, round_minor


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """A rounded sum that belongs to one category and rate."""

    pair: Pair
    minor: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Parts:
    """All that a document's pairs are summed from."""

    lines: tuple[Part, ...]
    allowances: tuple[Part, ...]
    charges: tuple[Part, ...]

    def signed(self) -> list[Part]:
        """Return the lines, the allowances as a minus, and the charges, in order."""
        minus = [Part(pair=part.pair, minor=-part.minor) for part in self.allowances]
        return [*self.lines, *minus, *self.charges]


def parts_of(document: Document) -> Parts:
    """Return the rounded lines, allowances and charges of a document."""
    digits = exponent(document.currency)
    lines = [
        Part(pair=line.pair, minor=line_minor(line, digits)) for line in document.lines
    ]
    line_sums = sums_by_pair(lines)
    return Parts(
        lines=tuple(lines),
        allowances=_adjustment_parts(document.allowances, line_sums, digits),
        charges=_adjustment_parts(document.charges, line_sums, digits),
    )


def line_minor(line: Line, digits: int) -> int:
    """Return what a line comes to: its price, less allowances, and its charges."""
    exact = Fraction(line.unit_price) * Fraction(line.quantity)
    price = round_minor(exact / Fraction(line.base_quantity), digits)
    base = Fraction(price, 10**digits)
    charges = sum(_adjustment_minor(one, base, digits) for one in line.charges)
    allowances = sum(_adjustment_minor(one, base, digits) for one in line.allowances)
    return price + charges - allowances


def sums_by_pair(parts: Iterable[Part]) -> dict[Pair, int]:
    """Return the sum of each category and rate in use, in the order of breakdowns."""
    sums: dict[Pair, int] = {}
    for part in parts:
        sums[part.pair] = sums.get(part.pair, 0) + part.minor
    return {pair: sums[pair] for pair in sorted(sums, key=row_order)}


def tax_minor(*, taxed: int, pair: Pair, price_basis: PriceBasis) -> int:
    """Return the tax on a pair's sum (net basis), or inside it (gross basis)."""
    rate = Fraction(pair[1])
    whole = Fraction(100) if price_basis == "net" else 100 + rate
    return round_minor(taxed * rate / whole, 0)


def _adjustment_parts(
    adjustments: Sequence[Adjustment], line_sums: dict[Pair, int], digits: int
) -> tuple[Part, ...]:
    by_adjustment = (
        _parts_of_one(adjustment, line_sums, digits) for adjustment in adjustments
    )
    return tuple(chain.from_iterable(by_adjustment))


def _parts_of_one(
    adjustment: Adjustment, line_sums: dict[Pair, int], digits: int
) -> list[Part]:
    named = adjustment.pair
    if named is None and adjustment.percent is not None and adjustment.base is None:
        pairs = list(line_sums)
    elif named is None:
        return _shared(adjustment, line_sums, digits)
    else:
        pairs = [named]
    bases = [Fraction(line_sums.get(pair, 0), 10**digits) for pair in pairs]
    return [
        Part(pair=pair, minor=_adjustment_minor(adjustment, base, digits))
        for pair, base in zip(pairs, bases, strict=True)
    ]


def _shared(
    adjustment: Adjustment, line_sums: dict[Pair, int], digits: int
) -> list[Part]:
    minor = _adjustment_minor(adjustment, Fraction(0), digits)
    shares = [minor] if len(line_sums) == 1 else allocate(minor, [*line_sums.values()])
    return [
        Part(pair=pair, minor=share)
        for pair, share in zip(line_sums, shares, strict=True)
    ]


def _adjustment_minor(adjustment: Adjustment, base: Fraction, digits: int) -> int:
    if adjustment.amount is not None:
        return round_minor(Fraction(adjustment.amount), digits)
    percent = Fraction(adjustment.percent or 0)
    given = base if adjustment.base is None else Fraction(adjustment.base)
    return round_minor(given * percent / 100, digits)
