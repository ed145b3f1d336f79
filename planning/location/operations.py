"""Ticking off what is done while a session runs."""

from __future__ import annotations

from datetime import datetime

from django.db import transaction

from jobs.attending.models import GroupShot
from jobs.bookings.models import Attendee, Booking
from planning.location.models import SessionTick
from planning.shoots.models import SetUp
from studio.errors import DomainError
from studio.history.operations import record
from studio.people.models import Person


class NothingToTickError(DomainError):
    """The key names nothing of this session."""


@transaction.atomic
def set_tick(
    *, booking: Booking, key: str, is_done: bool, by: Person, at: datetime
) -> SessionTick:
    """Tick something of a session off, or take it back, as of when it was tapped.

    The last tap counts, in whatever order taps arrive; the same tap twice is one.
    Raises NothingToTickError for a key that names nothing of this session.
    """
    Booking.objects.select_for_update(of=("self",)).get(pk=booking.pk)
    if not _is_of(booking, key):
        raise NothingToTickError("That is not in this session any more.")
    tick, is_new = SessionTick.objects.get_or_create(
        booking=booking,
        key=key,
        defaults={"is_done": is_done, "changed_at": at, "changed_by": by},
    )
    if not is_new:
        if at <= tick.changed_at:
            return tick
        was_done = tick.is_done
        tick.is_done, tick.changed_at, tick.changed_by = is_done, at, by
        tick.save()
        if was_done == is_done:
            return tick
    verb = "done on location" if is_done else "taken back on location"
    record(tick, verb, by=by, at=at, data={"key": key})
    return tick


def _is_of(booking: Booking, key: str) -> bool:
    kind, _colon, number = key.partition(":")
    if not (number.isascii() and number.isdigit() and len(number) <= 12):
        return False
    if kind == "set-up":
        return SetUp.objects.filter(plan__booking=booking, pk=int(number)).exists()
    if kind == "sitter":
        return Attendee.objects.filter(booking=booking, pk=int(number)).exists()
    if kind == "group":
        return GroupShot.objects.filter(booking=booking, pk=int(number)).exists()
    return False
