"""Laying what a frame found on the plan, and taking it off again."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from django.db import transaction

from jobs.bookings.models import Booking
from planning.shifts.models import LightKind, LightShift
from planning.shoots.choices import SkyWord
from studio.history.operations import record
from studio.people.models import Person


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """What a frame found: of which light, by how much, when."""

    reading_id: int
    set_up_id: int | None
    kind: LightKind
    sky: SkyWord
    stops: float
    frame_at: datetime


@transaction.atomic
def shift_light(
    *, booking: Booking, found: Finding, by: Person, at: datetime
) -> LightShift:
    """Shift the set-ups still to come by a finding; accepted twice, shifted once."""
    Booking.objects.select_for_update(of=("self",)).get(pk=booking.pk)
    shift, is_new = LightShift.objects.get_or_create(
        reading_id=found.reading_id,
        taken_back_at=None,
        defaults={
            "booking": booking,
            "set_up_id": found.set_up_id,
            "kind": found.kind,
            "sky": found.sky,
            "stops": found.stops,
            "frame_at": found.frame_at,
            "made_at": at,
            "made_by": by,
        },
    )
    if is_new:
        data = {"stops": round(found.stops, 2), "light": found.kind.label}
        record(shift, "light shifted", by=by, at=at, data=data)
    return shift


@transaction.atomic
def take_back_shift(*, shift_id: int, by: Person, at: datetime) -> LightShift:
    """Take a shift off the plan; taken back twice, it stays as the first time."""
    shift = LightShift.objects.select_for_update(of=("self",)).get(pk=shift_id)
    if shift.taken_back_at is None:
        shift.taken_back_at, shift.taken_back_by = at, by
        shift.save(update_fields=["taken_back_at", "taken_back_by"])
        record(shift, "light shift taken back", by=by, at=at)
    return shift
