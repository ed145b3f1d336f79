"""Everything that can be done with the library of set-ups."""

from __future__ import annotations

from datetime import datetime

from django.db import transaction

from jobs.bookings.models import Booking
from jobs.searching import same_text
from planning.patterns.frozen import details_of, freeze, sunset_of
from planning.patterns.models import Anchor, SavedSetUp
from planning.patterns.queries import Tried, light_of, sun_turn_of
from planning.shoots.models import SetUp
from planning.shoots.operations import add_set_up, start_plan
from studio.errors import DomainError
from studio.history.operations import record
from studio.people.models import Person


class NameTakenError(DomainError):
    """The library has a set-up of that name."""


class NoSunsetError(DomainError):
    """A time is counted from a sunset that does not happen."""


@transaction.atomic
def keep_set_up(
    *, set_up: SetUp, name: str, anchor: Anchor, by: Person, at: datetime
) -> SavedSetUp:
    """Keep a set-up in the library. Raises NameTakenError, NoSunsetError."""
    _refuse_taken(name)
    booking = set_up.plan.booking
    zero = booking.starts_at
    if anchor == Anchor.SUNSET:
        sunset = sunset_of(light_of(booking))
        if sunset is None:
            raise NoSunsetError("The sun does not set that day: count from the start.")
        zero = sunset
    saved = SavedSetUp.objects.create(
        name=name,
        anchor=anchor,
        offset_minutes=round((set_up.starts_at - zero).total_seconds() / 60),
        details=freeze(set_up),
        sun_turn_deg=sun_turn_of(set_up),
        kept_from=f"{booking.job.title}, {booking.place.name}"[:200],
        kept_at=at,
    )
    record(saved, "kept", by=by, at=at)
    return saved


@transaction.atomic
def rename_saved(*, saved_id: int, name: str, by: Person, at: datetime) -> SavedSetUp:
    """Give a kept set-up another name. Raises NameTakenError."""
    saved = SavedSetUp.objects.select_for_update().get(pk=saved_id)
    _refuse_taken(name, but=saved_id)
    saved.name = name
    saved.details = saved.details | {"name": name}
    saved.save()
    record(saved, "renamed", by=by, at=at)
    return saved


@transaction.atomic
def drop_saved(*, saved_id: int, by: Person, at: datetime) -> None:
    """Take a kept set-up out of the library; plans that it went into keep theirs."""
    saved = SavedSetUp.objects.select_for_update().get(pk=saved_id)
    record(saved, "dropped", by=by, at=at)
    saved.delete()


@transaction.atomic
def bring_in(*, tried: Tried, booking: Booking, by: Person, at: datetime) -> SetUp:
    """Put a set-up that was tried for a session into its plan, at the end."""
    plan = start_plan(booking=booking, by=by, at=at)
    return add_set_up(plan_id=plan.pk, details=details_of(tried.row), by=by, at=at)


def _refuse_taken(name: str, but: int = 0) -> None:
    others = SavedSetUp.objects.filter(same_text(name, "name"))
    if others.exclude(pk=but).exists():
        raise NameTakenError(f"The library has “{name}” already: choose another name.")
