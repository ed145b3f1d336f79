"""Keeping what worked."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from django.db import transaction

from jobs.bookings.models import Booking
from planning.light.exposure import exposure_value
from planning.readings.models import Reading
from planning.readings.offers import offer_of
from planning.readings.queries import planned_at
from planning.shifts.models import LightShift
from planning.shifts.operations import shift_light
from planning.shoots.planned import PlannedSetUp
from planning.shoots.queries import planned_shoot
from studio.errors import DomainError
from studio.history.operations import record
from studio.people.models import Person


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """The exact settings of a frame that worked, of which set-up, with a note."""

    f_number: float
    shutter_s: float
    iso: float
    set_up_id: int | None = None
    note: str = ""
    client_key: str


class NotOfThisSessionError(DomainError):
    """The set-up belongs to another session."""


class AlreadySentError(DomainError):
    """A page that was sent once says another frame now."""


@transaction.atomic
def keep_reading(
    *, booking: Booking, frame: Frame, by: Person, at: datetime
) -> Reading:
    """Keep the settings that worked; the same key sent again gives the same row.

    Raises NotOfThisSessionError for a set-up of another session, AlreadySentError for
    other settings under a key that was sent.
    """
    Booking.objects.select_for_update(of=("self",)).get(pk=booking.pk)
    kept = Reading.objects.filter(booking=booking, client_key=frame.client_key).first()
    if kept is not None:
        if _settings(kept) != _settings(frame):
            raise AlreadySentError(
                "Another frame was kept from this page already. Open it again and "
                "write this one there."
            )
        return kept
    shoot = planned_shoot(booking)
    planned = _planned(shoot.set_ups, frame.set_up_id)
    reading = Reading.objects.create(
        booking=booking,
        set_up_id=frame.set_up_id,
        read_at=at,
        read_by=by,
        f_number=frame.f_number,
        shutter_s=frame.shutter_s,
        iso=frame.iso,
        note=frame.note,
        exposure_value=exposure_value(
            f_number=frame.f_number, shutter_s=frame.shutter_s, iso=frame.iso
        ),
        planned_exposure_value=planned_at(shoot, planned, at) if planned else None,
        planned_shift_stops=planned.shift.stops if planned and planned.shift else 0.0,
        sun_altitude_deg=shoot.light.moment(at).altitude_deg,
        sky=shoot.sky_words,
        client_key=frame.client_key,
    )
    record(reading, "reading kept", by=by, at=at)
    return reading


class NothingToShiftError(DomainError):
    """The frame offers no shift, or no longer."""


@transaction.atomic
def accept_offer(
    *, booking: Booking, reading_id: int, by: Person, at: datetime
) -> LightShift:
    """Shift the set-ups still to come by what a frame found; twice is once.

    Raises NothingToShiftError where that frame does not offer it any more.
    """
    shoot = planned_shoot(booking)
    for shift in shoot.shifts:
        if shift.reading_id == reading_id:
            return shift
    offer = offer_of(shoot, at)
    if offer is None or offer.reading_id != reading_id:
        raise NothingToShiftError(
            "That frame moves nothing any more: a later one was kept, the sky was "
            "changed, or no set-up of its light is still to come."
        )
    return shift_light(booking=booking, found=offer.finding, by=by, at=at)


def _settings(one: Frame | Reading) -> tuple[float, float, float]:
    return one.f_number, one.shutter_s, one.iso


def _planned(
    set_ups: tuple[PlannedSetUp, ...], set_up_id: int | None
) -> PlannedSetUp | None:
    if set_up_id is None:
        return None
    for one in set_ups:
        if one.facts.pk == set_up_id:
            return one
    raise NotOfThisSessionError("That set-up is not in this session's plan.")
