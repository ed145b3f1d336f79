"""A price of the list with its tax, or before it."""

from __future__ import annotations

from fractions import Fraction

from invoicing.prices.models import PriceItem
from invoicing.tax import PriceBasis
from studio.money import Money
from studio.profile.models import StudioProfile


def price_on(item: PriceItem, basis: PriceBasis, profile: StudioProfile) -> int:
    """Return an item's price on a basis, in minor units.

    A list that includes tax is read without it for an organisation's net quote, and
    the other way round; half a unit is rounded away from zero.
    """
    listed: PriceBasis = "gross" if profile.list_prices_include_tax else "net"
    if listed == basis or not profile.tax_registered:
        return item.unit_price_minor
    factor = 1 + Fraction(item.rate_under(profile), 10_000)
    money = Money.from_minor(item.unit_price_minor, profile.currency)
    return money.times(factor if basis == "gross" else 1 / factor).minor
