"""What a purchase comes to: the tax inside a price, and the worth of a drive."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

from studio.money import round_minor


def tax_inside(gross_minor: int, rate: Decimal) -> int:
    """Return the tax inside a price: gross times rate over a hundred and the rate."""
    exact = Fraction(rate)
    return round_minor(gross_minor * exact / (100 + exact), 0)


def drive_worth(distance_tenths: int, rate_minor_hundredths: int) -> int:
    """Return what a drive is worth, in minor units."""
    return round_minor(Fraction(distance_tenths * rate_minor_hundredths, 1_000), 0)
