"""What does not go together in the diary, told before it happens."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from itertools import combinations, groupby, pairwise
from typing import Final

from jobs.bookings.models import Booking, Reservation
from jobs.bookings.states import BookingStatus
from jobs.ways.queries import Way, ways_of
from studio.timespan import TimeSpan
from studio.wording import day_plain, day_short

COMING: Final = (
    BookingStatus.PROPOSED,
    BookingStatus.PENCILLED,
    BookingStatus.CONFIRMED,
)
REACH: Final = timedelta(hours=4)
"""How far apart two sessions are still asked for the way between them."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Worry:
    """One thing to see to: when, what, and the session that can still be changed."""

    starts_at: datetime
    words: str
    url: str

    @property
    def day(self) -> str:
        """The day that it is about."""
        return day_short(self.starts_at)


def worries_during(span: TimeSpan) -> list[Worry]:
    """Return what does not go together in a time, the first leading.

    Two sessions that want one person, room or item at once; somebody who is away; a
    way that is longer than the time for it; kit that is missing, damaged or due for
    service. Three queries at most.
    """
    rows = _rows(span)
    worries = [*_clashes(rows), *_tight_ways(rows), *_kit(rows)]
    return sorted(worries, key=lambda one: (one.starts_at, one.words))


def _rows(span: TimeSpan) -> list[Reservation]:
    near = Reservation.objects.during(span).named()
    live = near.exclude(booking__isnull=False, booking__status__in=_settled())
    return list(live.order_by("resource", "starts_at", "pk"))


def _settled() -> list[str]:
    return [status for status in BookingStatus.values if status not in COMING]


def _clashes(rows: Sequence[Reservation]) -> Iterator[Worry]:
    """Tell each two sessions once, whatever they share."""
    shared: dict[tuple[int, int], list[str]] = {}
    pairs: dict[tuple[int, int], tuple[Reservation, Reservation]] = {}
    for one, other in _overlapping(rows):
        key = (_about(one), _about(other))
        shared.setdefault(key, []).append(one.resource_name)
        pairs[key] = (one, other)
    for key, (one, other) in pairs.items():
        names = list(dict.fromkeys(shared[key]))
        first, second = sorted((one, other), key=lambda row: -_firmness(row))
        if second.booking is not None:
            yield _worry(second.booking, _clash_words(names, first, second.booking))


def _overlapping(
    rows: Sequence[Reservation],
) -> Iterator[tuple[Reservation, Reservation]]:
    for _, found in groupby(rows, key=lambda row: row.resource):
        for one, other in combinations(found, 2):
            apart = other.starts_at >= one.ends_at or one.starts_at >= other.ends_at
            if not apart and _about(one) != _about(other):
                yield one, other


def _about(row: Reservation) -> int:
    """Return which booking a row is of; blocked time is below zero."""
    return row.booking_id if row.booking_id is not None else -(row.blocked_id or 0)


def _firmness(row: Reservation) -> int:
    if row.booking is None:
        return len(COMING)
    return COMING.index(BookingStatus(row.booking.status))


def _clash_words(names: list[str], first: Reservation, booking: Booking) -> str:
    listed = ", ".join(names[:4]) + (" and more" if len(names) > 4 else "")
    if first.booking is None:
        why = first.blocked.why if first.blocked else ""
        return f"{booking.job.title} wants {listed}: away then ({why})."
    other = first.booking
    how = other.get_status_display().lower()
    own = booking.get_status_display().lower()
    return (
        f"{booking.job.title} ({own}) wants {listed} while {other.job.title} ({how}) "
        "does."
    )


def _tight_ways(rows: Sequence[Reservation]) -> Iterator[Worry]:
    near = list(_one_after_another(rows))
    ways = ways_of((one.place, other.place) for _, one, other, _ in near)
    told = set()
    for name, one, other, gap in near:
        way = ways[one.place_id, other.place_id]
        if gap < timedelta(minutes=way.minutes) and (one.pk, other.pk) not in told:
            told.add((one.pk, other.pk))
            yield _worry(other, _way_words(name, one, other, gap, way))


def _one_after_another(
    rows: Sequence[Reservation],
) -> Iterator[tuple[str, Booking, Booking, timedelta]]:
    of_people = [row for row in rows if row.person_id and row.booking]
    for _, found in groupby(of_people, key=lambda row: row.resource):
        ordered = list(found)
        for one, other in pairwise(ordered):
            gap = other.starts_at - one.ends_at
            before, after = one.booking, other.booking
            if before is None or after is None or before.place_id == after.place_id:
                continue
            if timedelta() <= gap < REACH:
                yield one.resource_name, before, after, gap


def _way_words(
    name: str, one: Booking, other: Booking, gap: timedelta, way: Way
) -> str:
    minutes = int(gap.total_seconds() // 60)
    return (
        f"{name} has {minutes} minutes from {one.job.title} to {other.job.title}; the "
        f"way takes {way.words}."
    )


def _kit(rows: Iterable[Reservation]) -> Iterator[Worry]:
    """Tell of each item out of order, and once of one that is due for service."""
    told = set()
    for row in rows:
        item, booking = row.kit_item, row.booking
        if item is None or booking is None:
            continue
        if item.trouble:
            how = item.get_trouble_display().lower()
            yield _worry(booking, f"{booking.job.title} needs {item}: it is {how}.")
            continue
        due = item.service_due_on
        if due and due < booking.local_start.date() and item.pk not in told:
            told.add(item.pk)
            words = f"the service of {item} is due before it, on {day_plain(due)}"
            yield _worry(booking, f"{booking.job.title}: {words}.")


def _worry(booking: Booking, words: str) -> Worry:
    return Worry(
        starts_at=booking.local_start, words=words, url=booking.get_absolute_url()
    )
