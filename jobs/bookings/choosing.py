"""Which item of a kit goes out where one of several will do."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from itertools import groupby

from jobs.bookings.holding import holding_rows, resource_of
from jobs.bookings.models import Booking
from jobs.kits.models import KitAlternative, KitItem
from studio.timespan import TimeSpan


def items_of_kits(
    kit_ids: Iterable[int],
    *,
    span: TimeSpan | None,
    already: Collection[int] = (),
    but: Booking | None = None,
) -> set[int]:
    """Return the items of whole kits for a time, one for each position of several.

    A position that an item wanted `already` fills takes no other; else the first goes
    that is in order and free then, apart from what booking `but` holds. Where none is,
    the first is named all the same, so that the clash says who has it. Four queries.
    """
    wanted = list(kit_ids)
    if not wanted:
        return set()
    fixed = KitItem.objects.in_use().filter(kits__in=wanted)
    chosen = set(fixed.values_list("pk", flat=True))
    rows = KitAlternative.objects.filter(kit__in=wanted, item__retired=False)
    ordered = list(rows.select_related("item").order_by("kit", "position", "rank"))
    taken = _taken([row.item_id for row in ordered], span, but)
    for _, group in groupby(ordered, key=lambda row: (row.kit_id, row.position)):
        items = [row.item for row in group]
        if not any(item.pk in already for item in items):
            chosen.add(_first(items, taken | chosen).pk)
    return chosen


def free_instead(
    item_id: int, *, span: TimeSpan, but: Booking, held: Collection[int]
) -> KitItem | None:
    """Return what could go out in an item's place: free, in order, of its position."""
    beside = KitAlternative.objects.filter(item=item_id).values("kit", "position")
    for position in beside:
        rows = KitAlternative.objects.filter(**position, item__retired=False)
        items = [row.item for row in rows.select_related("item").order_by("rank")]
        taken = _taken([item.pk for item in items], span, but) | {item_id, *held}
        for item in items:
            if item.pk not in taken and not item.trouble:
                return item
    return None


def _first(items: Sequence[KitItem], taken: Collection[int]) -> KitItem:
    free = [item for item in items if item.pk not in taken and not item.trouble]
    return (free or items)[0]


def _taken(
    item_ids: Sequence[int], span: TimeSpan | None, but: Booking | None
) -> set[int]:
    if span is None or not item_ids:
        return set()
    rows = holding_rows([resource_of(pk) for pk in item_ids], span)
    if but is not None:
        rows = rows.exclude(booking=but)
    return {row.kit_item_id for row in rows if row.kit_item_id}
