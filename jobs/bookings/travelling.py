"""Whether people and kit can get from one booking to the next in time."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import timedelta
from typing import Final

from jobs.bookings.models import Booking, Reservation
from jobs.bookings.states import BookingStatus
from jobs.places.models import Place
from jobs.ways.queries import Way, ways_between
from studio.timespan import TimeSpan
from studio.wording import day_short

REACH: Final = timedelta(hours=24)
"""How far around a booking others are looked at; no known way is longer."""

FIRM: Final = (BookingStatus.CONFIRMED, BookingStatus.COMPLETED)


@dataclass(frozen=True, slots=True, kw_only=True)
class TightWay:
    """Somebody or something that cannot get from one booking to another in time."""

    resource: str
    words: str
    other_is_firm: bool


def refused_way(booking: Booking, wanted: Iterable[Reservation]) -> TightWay | None:
    """Return the first way that a firm booking is refused for, None if none is."""
    if booking.status not in FIRM:
        return None
    tight = tight_ways(booking.place, wanted)
    return next((one for one in tight if one.other_is_firm), None)


def way_sentence(place: Place, wanted: Iterable[Reservation]) -> str:
    """Return a sentence on the first way that is too long, or an empty one."""
    return next((one.words for one in tight_ways(place, wanted)), "")


def tight_ways(place: Place, wanted: Iterable[Reservation]) -> list[TightWay]:
    """Return which ways to and from a place are longer than the time for them.

    `wanted` is what one booking wants: all of it for the same time, set-up and packing
    counted in. Three queries at most; those that overlap are clashes, not ways.
    """
    asked = {one.resource: one for one in wanted if one.person_id or one.kit_item_id}
    if not asked:
        return []
    near = _near(next(iter(asked.values())), list(asked))
    elsewhere = [
        row for row in near if row.booking and row.booking.place_id != place.pk
    ]
    ways = ways_between(place, [row.booking.place for row in elsewhere if row.booking])
    tight = [
        _tight(place, asked[row.resource], row, row.booking, ways)
        for row in elsewhere
        if row.booking
    ]
    return [one for one in tight if one]


def _near(one: Reservation, resources: list[str]) -> list[Reservation]:
    around = TimeSpan(one.starts_at - REACH, one.ends_at + REACH)
    rows = Reservation.objects.during(around).filter(
        resource__in=resources, holds=True, booking__isnull=False
    )
    if one.booking_id is not None:
        rows = rows.exclude(booking_id=one.booking_id)
    related = rows.select_related(
        "booking__job", "booking__place", "person", "kit_item"
    )
    # People come before kit: a person's name says it best.
    return list(related.order_by("-resource", "starts_at"))


def _tight(
    place: Place,
    mine: Reservation,
    row: Reservation,
    other: Booking,
    ways: dict[int, Way],
) -> TightWay | None:
    before = row.ends_at <= mine.starts_at
    gap = mine.starts_at - row.ends_at if before else row.starts_at - mine.ends_at
    way = ways[other.place_id]
    if gap < timedelta() or gap >= timedelta(minutes=way.minutes):
        return None
    start = other.local_start
    between = int(gap.total_seconds() // 60)
    minutes = "1 minute" if between == 1 else f"{between} minutes"
    side = "after" if before else "before"
    words = (
        f"{row.resource_name} has {minutes} {side} {other.job.title}, "
        f"{other.job.number}, {day_short(start)} {start:%H:%M}. The way "
        f"between {other.place.name[:60]} and {place.name[:60]} takes {way.words}."
    )
    return TightWay(
        resource=row.resource, words=words, other_is_firm=other.status in FIRM
    )
