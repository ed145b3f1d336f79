"""Blocking time, and giving it free again."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any, Final

from django.db import DatabaseError, transaction

from jobs.away.models import LONGEST, BlockedTime
from jobs.bookings.holding import ClashError, holding_rows, name_clash, queue_up
from jobs.bookings.models import THE_STUDIO, Reservation
from jobs.places.models import Place
from studio.errors import DomainError
from studio.history.operations import record
from studio.people.models import Person
from studio.timespan import TimeSpan

PIECE: Final = timedelta(days=14)
"""The longest row of blocked time; it keeps the search for overlaps bounded."""


class BlockedTimeError(DomainError):
    """What was asked for is no time that can be blocked."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Absence:
    """Whose time is blocked (nobody's: the whole studio's), when, and why."""

    person: Person | None
    starts_at: datetime
    ends_at: datetime
    why: str

    def __post_init__(self) -> None:
        if self.ends_at <= self.starts_at:
            raise BlockedTimeError("The time ends before it starts.")
        if self.ends_at - self.starts_at > LONGEST:
            raise BlockedTimeError("A year is blocked at once at most.")


@transaction.atomic
def block_time(*, absence: Absence, by: Person, at: datetime) -> BlockedTime:
    """Keep a person, or everybody and every room, from being booked.

    Raises ClashError, keeping nothing, where a booking holds them already.
    """
    blocked = BlockedTime.objects.create(
        person=absence.person,
        starts_at=absence.starts_at,
        ends_at=absence.ends_at,
        why=absence.why,
    )
    _lay(blocked)
    record(blocked, "blocked", by=by, at=at)
    return blocked


@transaction.atomic
def free_time(*, blocked_id: int, by: Person, at: datetime) -> None:
    """Give blocked time free again; it is gone from the diary.

    What other blocked time keeps stays kept.
    """
    blocked = BlockedTime.objects.select_for_update().get(pk=blocked_id)
    record(blocked, "freed", by=by, at=at)
    span = blocked.span
    blocked.delete()
    for other in BlockedTime.objects.during(span).order_by("pk"):
        other.reservations.all().delete()
        _lay(other)


def _lay(blocked: BlockedTime) -> None:
    """Write what a blocked time keeps; what another keeps already is left to it."""
    things = dict(_things(blocked))
    queue_up(list(things))
    span, kept = blocked.span, dict[str, list[TimeSpan]]()
    for row in _around(things, span):
        if row.booking_id is not None:
            raise ClashError(name_clash([row]), resource=row.resource)
        kept.setdefault(row.resource, []).append(TimeSpan(row.starts_at, row.ends_at))
    rows = [
        Reservation(
            blocked=blocked,
            resource=resource,
            starts_at=piece.start,
            ends_at=piece.end,
            holds=True,
            **thing,
        )
        for resource, thing in things.items()
        for piece in pieces(span, kept.get(resource, []))
    ]
    try:
        with transaction.atomic():
            Reservation.objects.bulk_create(rows)
    except DatabaseError as refusal:  # a booking that got past the line
        raise ClashError(
            "Somebody was booked for that time a moment ago. Try again."
        ) from refusal


def pieces(span: TimeSpan, without: Iterable[TimeSpan]) -> Iterator[TimeSpan]:
    """Give a span in pieces of 14 days at most, leaving out what others cover."""
    start = span.start
    ends = [(one.start, one.end) for one in without] + [(span.end, span.end)]
    for stop, go_on in sorted(ends):
        while start < min(stop, span.end):
            end = min(start + PIECE, stop, span.end)
            yield TimeSpan(start, end)
            start = end
        start = max(start, go_on)


def _around(things: Iterable[str], span: TimeSpan) -> Iterator[Reservation]:
    """Give what holds one of the things within a span of any length."""
    names, start = list(things), span.start
    seen: set[int] = set()
    while start < span.end:
        part = TimeSpan(start, min(start + PIECE, span.end))
        for row in holding_rows(names, part):
            if row.pk not in seen:
                seen.add(row.pk)
                yield row
        start = part.end


def _things(blocked: BlockedTime) -> Iterator[tuple[str, dict[str, Any]]]:
    """Give what a blocked time keeps: one word for each thing, and the thing."""
    if blocked.person:
        yield f"person:{blocked.person.pk}", {"person": blocked.person}
        return
    yield THE_STUDIO, {}
    for person in Person.objects.filter(is_active=True):
        yield f"person:{person.pk}", {"person": person}
    for room in Place.objects.filter(is_room=True):
        yield f"room:{room.pk}", {"room": room}
