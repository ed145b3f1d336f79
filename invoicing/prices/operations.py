"""Everything that can be done to the price list."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from fractions import Fraction
from typing import Any

from django.db import transaction

from invoicing.prices.models import PriceItem
from invoicing.tax import PriceBasis
from studio.history.operations import record
from studio.money import Money
from studio.people.models import Person
from studio.profile.models import StudioProfile


@transaction.atomic
def add_price(*, details: Mapping[str, Any], by: Person, at: datetime) -> PriceItem:
    """Put something on the price list."""
    item = PriceItem.objects.create(**details)
    record(item, "added", by=by, at=at)
    return item


@transaction.atomic
def change_price(
    *, item_id: int, details: Mapping[str, Any], by: Person, at: datetime
) -> PriceItem:
    """Change a price; quotes that stand keep theirs."""
    item = PriceItem.objects.select_for_update().get(pk=item_id)
    for name, value in details.items():
        setattr(item, name, value)
    item.save()
    record(item, "changed", by=by, at=at)
    return item


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
