"""Which item of a kit goes out where one of several will do."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass
from itertools import groupby

from jobs.bookings.holding import holding_rows, resource_of
from jobs.bookings.models import Booking
from jobs.kits.either import one_for_each
from jobs.kits.models import KitAlternative, KitItem
from studio.timespan import TimeSpan


@dataclass(frozen=True, slots=True, kw_only=True)
class KitWants:
    """What whole kits hold: items, and positions that one of several fills.

    The items of a position stand in the order in which they are taken.
    """

    item_ids: frozenset[int]
    one_of: tuple[tuple[KitItem, ...], ...]

    @property
    def fillers(self) -> tuple[tuple[KitItem, ...], ...]:
        """What could fill each position: the items in order, or all where none is."""
        found = []
        for items in self.one_of:
            beside = [item for item in items if item.pk not in self.item_ids]
            sound = [item for item in beside if not item.trouble]
            found.append(tuple(sound or beside))
        return tuple(filter(None, found))


def wants_of_kits(kit_ids: Iterable[int], *, already: Collection[int] = ()) -> KitWants:
    """Return what whole kits hold, beside what is wanted `already`. Two queries.

    A position that an item wanted already fills takes no other.
    """
    wanted = list(kit_ids)
    if not wanted:
        return KitWants(item_ids=frozenset(), one_of=())
    fixed = KitItem.objects.in_use().filter(kits__in=wanted)
    rows = KitAlternative.objects.filter(kit__in=wanted, item__retired=False)
    ordered = rows.select_related("item").order_by("kit", "position", "rank")
    positions = [
        tuple(row.item for row in group)
        for _, group in groupby(ordered, key=lambda row: (row.kit_id, row.position))
    ]
    return KitWants(
        item_ids=frozenset(fixed.values_list("pk", flat=True)),
        one_of=tuple(
            items
            for items in positions
            if not any(item.pk in already for item in items)
        ),
    )


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
    the first is named all the same, so that the clash says who has it. Three queries.
    """
    wants = wants_of_kits(kit_ids, already=already)
    several = [item.pk for items in wants.one_of for item in items]
    taken = _taken(several, span, but) | wants.item_ids
    free = [
        [item.pk for item in items if item.pk not in taken and not item.trouble]
        for items in wants.one_of
    ]
    chosen = set(wants.item_ids)
    for pk, items in zip(one_for_each(free), wants.one_of, strict=True):
        chosen.add(items[0].pk if pk is None else pk)
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


def _taken(
    item_ids: Sequence[int], span: TimeSpan | None, but: Booking | None
) -> set[int]:
    if span is None or not item_ids:
        return set()
    rows = holding_rows([resource_of(pk) for pk in item_ids], span)
    if but is not None:
        rows = rows.exclude(booking=but)
    return {row.kit_item_id for row in rows if row.kit_item_id}
