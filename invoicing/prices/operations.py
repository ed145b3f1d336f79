"""Everything that can be done to the price list."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime
from typing import Any

from django.db import transaction

from invoicing.prices.models import PackagePart, PriceItem
from studio.history.operations import record
from studio.people.models import Person


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


@transaction.atomic
def set_parts(
    *, package_id: int, parts: Sequence[tuple[int, int]], by: Person, at: datetime
) -> None:
    """Say what is in a package: items and quantities; quotes that stand keep theirs."""
    package = PriceItem.objects.select_for_update().get(pk=package_id)
    package.parts.all().delete()
    PackagePart.objects.bulk_create(
        PackagePart(
            package=package, item_id=item_id, position=place, quantity_thousandths=many
        )
        for place, (item_id, many) in enumerate(parts, start=1)
    )
    record(package, "filled", by=by, at=at, data={"parts": len(parts)})
