"""What a session took along, and what is known of how it came back."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from itertools import groupby
from typing import Final

from django.db.models import Count, F

from jobs.bookings.models import Booking
from jobs.bookings.states import BookingStatus
from jobs.bookings.wanted import items_of
from jobs.kits.models import KitItem
from jobs.returns.models import KitReturn

UNPACKING: Final = timedelta(hours=12)
ASKED_FOR: Final = timedelta(days=14)


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
    """Return the items a session wants that are missing or damaged; one query at most.

    What is no longer in use is left out.
    """
    wanted = [one for one in items_of(booking) if one.trouble and not one.retired]
    return sorted(wanted, key=lambda item: (item.name, item.pk))


@dataclass(frozen=True, slots=True)
class StillOut:
    """A session that is over, and how much of its kit nobody ticked back."""

    booking: Booking
    open: int
    total: int


def still_out(*, at: datetime) -> list[StillOut]:
    """Return the sessions of the last weeks whose kit is out; the oldest first.

    Those that ended within these hours are not asked for yet. Two queries.
    """
    over = Booking.objects.filter(
        status__in=[BookingStatus.CONFIRMED, BookingStatus.COMPLETED],
        ends_at__lt=at - UNPACKING,
        ends_at__gt=at - ASKED_FOR,
    )
    counted = over.annotate(
        wanted=Count("reservations__kit_item", distinct=True),
        ticked=Count("kit_returns", distinct=True),
    )
    found = counted.filter(wanted__gt=F("ticked")).order_by("ends_at")
    counts = list(found.values_list("pk", "wanted", "ticked")[:10])
    known = Booking.objects.select_related("job", "place")
    rows = known.in_bulk([pk for pk, _, _ in counts])
    return [
        StillOut(rows[pk], wanted - ticked, wanted) for pk, wanted, ticked in counts
    ]
