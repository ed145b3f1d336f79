"""What pages show of kit."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from itertools import groupby

from django.db.models import Prefetch

from jobs.bookings.models import Reservation
from jobs.kits.figures import limits_of
from jobs.kits.models import Kit, KitAlternative, KitCategory, KitItem


@dataclass(frozen=True, slots=True, kw_only=True)
class ItemRow:
    """An item as a line of a list."""

    url: str
    name: str
    limits: str
    bag: str
    serial: str
    trouble: str


@dataclass(frozen=True, slots=True, kw_only=True)
class CategoryRows:
    """The items of a category."""

    name: str
    rows: tuple[ItemRow, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class KitRow:
    """A kit and what is in it, in words."""

    url: str
    name: str
    items: str


@dataclass(frozen=True, slots=True, kw_only=True)
class HeldFor:
    """A session to come that keeps an item."""

    title: str
    url: str
    starts_at: datetime
    zone: str
    is_held: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class KitShelf:
    """All kit: items by category, kits, and what is retired."""

    categories: tuple[CategoryRows, ...]
    kits: tuple[KitRow, ...]
    retired: tuple[ItemRow, ...]


def kit_shelf() -> KitShelf:
    """Return all kit. Four queries."""
    items = list(KitItem.objects.order_by("name", "pk"))
    in_use = [item for item in items if not item.retired]
    groups = [
        (category.label, [one for one in in_use if one.category == category])
        for category in KitCategory
    ]
    held = Prefetch("items", queryset=KitItem.objects.in_use().order_by("name", "pk"))
    others = Prefetch(
        "alternatives",
        queryset=KitAlternative.objects.select_related("item").filter(
            item__retired=False
        ),
    )
    kits = Kit.objects.prefetch_related(held, others).order_by("name")
    return KitShelf(
        categories=tuple(
            CategoryRows(name=name, rows=tuple(_rows(found)))
            for name, found in groups
            if found
        ),
        kits=tuple(_kit(kit) for kit in kits),
        retired=tuple(_rows(item for item in items if item.retired)),
    )


def sessions_with(item: KitItem, *, at: datetime) -> list[HeldFor]:
    """Return the sessions to come that want an item, the next first."""
    wanted = Reservation.objects.filter(kit_item=item, ends_at__gt=at)
    live = wanted.exclude(booking__status="CANCELLED")
    rows = live.select_related("booking__job", "booking__place").order_by("starts_at")
    return [
        HeldFor(
            title=row.booking.job.title,
            url=row.booking.get_absolute_url(),
            starts_at=row.booking.starts_at,
            zone=row.booking.place.time_zone,
            is_held=row.holds,
        )
        for row in rows[:10]
        if row.booking
    ]


def _rows(items: Iterable[KitItem]) -> list[ItemRow]:
    return [
        ItemRow(
            url=item.get_absolute_url(),
            name=item.name,
            limits=limits_of(item),
            bag=item.bag,
            serial=item.serial,
            trouble=item.get_trouble_display(),
        )
        for item in items
    ]


def _kit(kit: Kit) -> KitRow:
    names = [item.name for item in kit.items.all()]
    for _, found in groupby(kit.alternatives.all(), key=lambda row: row.position):
        names.append(" or ".join(row.item.name for row in found))
    return KitRow(url=kit.get_absolute_url(), name=kit.name, items=", ".join(names))
