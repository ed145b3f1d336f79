"""What is done to a job and its sessions at once, each in one transaction."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from django.db import transaction

from jobs.bookings.models import Booking
from jobs.bookings.operations import (
    BookingWish,
    cancel_booking,
    change_booking,
    complete_booking,
    confirm_booking,
    pencil_booking,
    propose_booking,
)
from jobs.bookings.states import SETTLED, BookingStatus
from jobs.jobs.models import Job
from jobs.jobs.operations import close_as_cancelled, close_as_lost, mark_shot
from jobs.places.models import Place
from jobs.places.operations import PlaceDetails, add_place
from studio.people.models import Person


@dataclass(frozen=True, slots=True, kw_only=True)
class SessionDraft:
    """A session as it was typed, at a place that is kept or a new one.

    `hold_until` pencils a new session in at once.
    """

    place: Place | PlaceDetails
    starts_at: datetime
    ends_at: datetime
    setting_up_minutes: int
    person_ids: tuple[int, ...]
    kit_item_ids: tuple[int, ...]
    weather_decision: str
    packing_minutes: int = 0
    hold_until: datetime | None = None

    def wish_at(self, place: Place) -> BookingWish:
        """Return what the booking is to be. Raises BookingTimeError."""
        return BookingWish(
            place=place,
            starts_at=self.starts_at,
            ends_at=self.ends_at,
            setting_up_minutes=self.setting_up_minutes,
            packing_minutes=self.packing_minutes,
            person_ids=self.person_ids,
            kit_item_ids=self.kit_item_ids,
            weather_decision=self.weather_decision,
        )


@transaction.atomic
def write_session(
    *, job: Job, draft: SessionDraft, by: Person, at: datetime
) -> Booking:
    """Give a job a session. Raises BookingTimeError and ClashError, keeping nothing."""
    wish = draft.wish_at(_place(draft, by, at))
    booking = propose_booking(job=job, wish=wish, by=by, at=at)
    if draft.hold_until:
        until = draft.hold_until
        return pencil_booking(booking_id=booking.pk, until=until, by=by, at=at)
    return booking


@transaction.atomic
def rewrite_session(
    *, booking_id: int, draft: SessionDraft, version: int, by: Person, at: datetime
) -> Booking:
    """Move a session or change what it wants, if nobody else did meanwhile.

    Raises BookingMoveError, BookingTimeError, ClashError and StaleBookingError, keeping
    nothing of what was typed.
    """
    return change_booking(
        booking_id=booking_id,
        wish=draft.wish_at(_place(draft, by, at)),
        version=version,
        by=by,
        at=at,
    )


@transaction.atomic
def finish_session(*, job_id: int, by: Person, at: datetime) -> Job:
    """Note that a job was shot: its held sessions happened. Raises JobMoveError."""
    job = mark_shot(job_id=job_id, by=by, at=at)
    for booking in _unsettled(job_id):
        if booking.status == BookingStatus.PROPOSED:
            continue
        if booking.spare_of_id:
            cancel_booking(booking_id=booking.pk, by=by, at=at)
            continue
        confirm_booking(booking_id=booking.pk, by=by, at=at)
        complete_booking(booking_id=booking.pk, by=by, at=at)
    return job


@transaction.atomic
def give_job_up(
    *, job_id: int, because: str, reason: str = "", by: Person, at: datetime
) -> Job:
    """Close a job that the client did not take, and free its sessions. JobMoveError."""
    job = close_as_lost(job_id=job_id, because=because, reason=reason, by=by, at=at)
    _free(job_id, by=by, at=at)
    return job


@transaction.atomic
def call_job_off(*, job_id: int, because: str, by: Person, at: datetime) -> Job:
    """Call a booked job off, and free its sessions. Raises JobMoveError."""
    job = close_as_cancelled(job_id=job_id, because=because, by=by, at=at)
    _free(job_id, by=by, at=at)
    return job


def _place(draft: SessionDraft, by: Person, at: datetime) -> Place:
    if isinstance(draft.place, Place):
        return draft.place
    return add_place(details=draft.place, by=by, at=at)


def _unsettled(job_id: int) -> list[Booking]:
    return list(Booking.objects.filter(job_id=job_id).exclude(status__in=SETTLED))


def _free(job_id: int, *, by: Person, at: datetime) -> None:
    for booking in _unsettled(job_id):
        cancel_booking(booking_id=booking.pk, by=by, at=at)
