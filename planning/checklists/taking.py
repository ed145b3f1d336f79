"""What the studio's own kit can do about a need: take it, hire it, or ask for it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from jobs.bookings.holding import rivals_of, wanted_reservations
from jobs.bookings.models import Booking
from jobs.bookings.states import SETTLED
from jobs.kits.models import KitItem
from planning.checklists.offer import Offer
from planning.checklists.queries import Checklist, Line


@dataclass(frozen=True, slots=True, kw_only=True)
class Shelf:
    """The studio's kit as a session finds it."""

    held: tuple[KitItem, ...]
    others: tuple[KitItem, ...]
    taken: dict[int, Booking]
    """By item, the session that holds it at that time."""

    def offer(self, line: Line) -> Offer | None:
        """Return what can be done about a line; None where nothing is missing."""
        if line.want is not None:
            has = sum(map(line.want.fits, self.held))
            if has >= line.want.count:
                return None
            return self._of(one for one in self.others if line.want.fits(one))
        if line.kit_item_id in {None, *(one.pk for one in self.held)}:
            return None
        return self._of(one for one in self.others if one.pk == line.kit_item_id)

    def _of(self, found: Iterable[KitItem]) -> Offer:
        items = list(found)
        free = next((one for one in items if one.pk not in self.taken), None)
        if free is not None:
            return Offer(item_id=free.pk, item_name=free.name)
        if items:
            first = items[0]
            return Offer(item_name=first.name, taken_by=self.taken[first.pk])
        return Offer()


def with_offers(found: Checklist, booking: Booking) -> Checklist:
    """Return a list whose lines say what can be taken for them. Three queries."""
    if booking.status in SETTLED:
        return found
    shelf = _shelf(booking)
    groups = [
        replace(
            group,
            lines=tuple(replace(line, offer=shelf.offer(line)) for line in group.lines),
        )
        for group in found.groups
    ]
    return replace(found, groups=tuple(groups))


def _shelf(booking: Booking) -> Shelf:
    held = list(KitItem.objects.filter(reservations__booking=booking))
    kept = {item.pk for item in held}
    in_use = KitItem.objects.in_use().order_by("name", "pk")
    others = [item for item in in_use if item.pk not in kept]
    wanted = wanted_reservations(booking, (), [item.pk for item in others])
    rivals = rivals_of(wanted)
    return Shelf(
        held=tuple(held),
        others=tuple(others),
        taken={
            one.kit_item_id: one.booking
            for one in rivals
            if one.kit_item_id and one.booking
        },
    )
