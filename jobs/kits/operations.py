"""Everything that can be done to kit."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from django.db import transaction

from jobs.kits.models import Kit, KitAlternative, KitItem, Trouble
from studio.errors import DomainError
from studio.history.operations import record
from studio.people.models import Person


class KitNameError(DomainError):
    """Two kits were to have one name."""


@dataclass(frozen=True, slots=True, kw_only=True)
class KitContent:
    """What a kit holds: items that always go, and those of which one goes.

    `one_of` has a list for each position, the item that is taken first in front.
    """

    item_ids: Collection[int] = ()
    one_of: Sequence[Sequence[int]] = ()


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
def retire_item(*, item_id: int, by: Person, at: datetime) -> KitItem:
    """Offer an item no more; sessions that hold it go on holding it."""
    return _set_retired(item_id, retired=True, by=by, at=at)


@transaction.atomic
def take_item_back(*, item_id: int, by: Person, at: datetime) -> KitItem:
    """Offer a retired item again."""
    return _set_retired(item_id, retired=False, by=by, at=at)


@transaction.atomic
def report_trouble(
    *, item_id: int, trouble: Trouble, note: str, by: Person, at: datetime
) -> KitItem:
    """Say that an item is missing or damaged: no session is confirmed with it."""
    item = KitItem.objects.select_for_update().get(pk=item_id)
    if (item.trouble, item.trouble_note) == (trouble, note):
        return item
    item.trouble, item.trouble_note = trouble, note
    item.save(update_fields=["trouble", "trouble_note"])
    record(item, trouble.label.lower(), by=by, at=at, data={"note": note})
    return item


@transaction.atomic
def end_trouble(*, item_id: int, is_lost: bool, by: Person, at: datetime) -> KitItem:
    """Say that an item was found or repaired, or else is written off and retired."""
    item = KitItem.objects.select_for_update().get(pk=item_id)
    if not item.trouble:
        return item
    mended = "found" if item.trouble == Trouble.MISSING else "repaired"
    if is_lost:
        item.retired = True
    item.trouble, item.trouble_note = "", ""
    item.save(update_fields=["trouble", "trouble_note", "retired"])
    record(item, "written off" if is_lost else mended, by=by, at=at)
    return item


@transaction.atomic
def keep_kit(*, name: str, holds: KitContent, by: Person, at: datetime) -> Kit:
    """Keep a named set of items, making it or changing what it holds."""
    kit, made = Kit.objects.get_or_create(name=name)
    _fill(kit, holds)
    record(kit, "made" if made else "changed", by=by, at=at)
    return kit


@transaction.atomic
def change_kit(
    *, kit_id: int, name: str, holds: KitContent, by: Person, at: datetime
) -> Kit:
    """Rename a kit and change what it holds. Raises KitNameError."""
    kit = Kit.objects.select_for_update().get(pk=kit_id)
    if Kit.objects.filter(name=name).exclude(pk=kit.pk).exists():
        raise KitNameError("Another kit has this name.")
    kit.name = name
    kit.save(update_fields=["name"])
    _fill(kit, holds)
    record(kit, "changed", by=by, at=at)
    return kit


@transaction.atomic
def break_kit_up(*, kit_id: int, by: Person, at: datetime) -> None:
    """Forget a named set; its items stay."""
    kit = Kit.objects.select_for_update().get(pk=kit_id)
    record(kit, "broken up", by=by, at=at)
    kit.delete()


def _fill(kit: Kit, holds: KitContent) -> None:
    kit.items.set(KitItem.objects.filter(pk__in=list(holds.item_ids)))
    kit.alternatives.all().delete()
    KitAlternative.objects.bulk_create(
        KitAlternative(kit=kit, position=position, rank=rank, item_id=item_id)
        for position, item_ids in enumerate(holds.one_of)
        for rank, item_id in enumerate(dict.fromkeys(item_ids))
    )


def _set_retired(item_id: int, *, retired: bool, by: Person, at: datetime) -> KitItem:
    item = KitItem.objects.select_for_update().get(pk=item_id)
    item.retired = retired
    item.save(update_fields=["retired"])
    record(item, "retired" if retired else "taken back", by=by, at=at)
    return item
