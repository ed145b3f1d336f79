"""What a session took along, and what is known of how it came back."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby

from jobs.bookings.models import Booking
from jobs.kits.models import KitItem
from jobs.returns.models import KitReturn


@dataclass(frozen=True, slots=True)
class BagBack:
    """A bag, by its name, and what was in it."""

    name: str
    items: tuple[KitItem, ...]


def bags_of(booking: Booking) -> list[BagBack]:
    """Return a session's kit by bag, what has none last. One query."""
    taken = KitItem.objects.filter(reservations__booking=booking)
    items = sorted(taken, key=lambda one: (not one.bag, one.bag, one.shelf, one.name))
    return [
        BagBack(bag or "In no bag", tuple(found))
        for bag, found in groupby(items, key=lambda one: one.bag)
    ]


def ticked_back(booking: Booking) -> dict[int, KitReturn]:
    """Return, by item, what was ticked. One query."""
    rows = booking.kit_returns.select_related("ticked_by", "item")
    return {row.item_id: row for row in rows}


def troubles_of(booking: Booking) -> list[KitItem]:
    """Return the items a session wants that are missing or damaged. One query."""
    wanted = KitItem.objects.in_trouble().filter(reservations__booking=booking)
    return list(wanted.order_by("name", "pk"))
