"""Everything that can be done to kit."""

from collections.abc import Iterable, Mapping
from datetime import datetime
from typing import Any

from django.db import transaction

from jobs.kits.models import Kit, KitItem
from studio.history.operations import record
from studio.people.models import Person


@transaction.atomic
def add_item(*, details: Mapping[str, Any], by: Person, at: datetime) -> KitItem:
    """Take an item into the studio's kit."""
    item = KitItem.objects.create(**details)
    record(item, "added", by=by, at=at)
    return item


@transaction.atomic
def change_item(
    *, item_id: int, details: Mapping[str, Any], by: Person, at: datetime
) -> KitItem:
    """Change what is known of an item; bookings that hold it go on holding it."""
    item = KitItem.objects.select_for_update().get(pk=item_id)
    for name, value in details.items():
        setattr(item, name, value)
    item.save()
    record(item, "changed", by=by, at=at)
    return item


@transaction.atomic
def keep_kit(*, name: str, item_ids: Iterable[int], by: Person, at: datetime) -> Kit:
    """Keep a named set of items, making it or changing what it holds."""
    kit, made = Kit.objects.get_or_create(name=name)
    kit.items.set(KitItem.objects.filter(pk__in=list(item_ids)))
    record(kit, "made" if made else "changed", by=by, at=at)
    return kit
