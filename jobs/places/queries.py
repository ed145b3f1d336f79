"""What pages show of places."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Final

from django.core.paginator import Page, Paginator
from django.db.models import Count, Max, Min, Q

from jobs.places.models import Place

ROWS: Final = 25


@dataclass(frozen=True, slots=True, kw_only=True)
class PlaceRow:
    """A place as a line of a list."""

    url: str
    name: str
    address: str
    is_room: bool
    zone: str
    sessions: int
    next_at: datetime | None
    last_at: datetime | None


@dataclass(frozen=True, slots=True, kw_only=True)
class PlaceList:
    """A page of the list of places."""

    rows: tuple[PlaceRow, ...]
    page: Page[Place]


def list_places(words: str, *, page: str, at: datetime) -> PlaceList:
    """Return a page of the places that the words find. Two queries."""
    live = ~Q(bookings__status="CANCELLED")
    ahead = live & Q(bookings__ends_at__gt=at)
    places = (
        Place.objects.matching(words)
        .annotate(
            sessions=Count("bookings", filter=live),
            next_at=Min("bookings__starts_at", filter=ahead),
            last_at=Max("bookings__starts_at", filter=live),
        )
        .order_by("name", "pk")
    )
    shown = Paginator(places, ROWS).get_page(page)
    return PlaceList(rows=tuple(_row(place) for place in shown), page=shown)


def _row(place: Place) -> PlaceRow:
    counted = place.__dict__
    return PlaceRow(
        url=place.get_absolute_url(),
        name=place.name,
        address=place.address,
        is_room=place.is_room,
        zone=place.time_zone,
        sessions=counted["sessions"],
        next_at=counted["next_at"],
        last_at=counted["last_at"],
    )
