"""Moves of a job's sessions as its page tells them, and what may be taken back."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from jobs.bookings.changes import ChangeKind, SessionChange
from jobs.bookings.models import Booking
from jobs.bookings.moving import may_be_taken_up
from jobs.bookings.states import BookingStatus
from jobs.jobs.models import Job
from studio.wording import day_year


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangeLine:
    """One move or end of a session, as the job's page tells it."""

    at: datetime
    what: str
    who: str
    because: str


def to_take_up(job: Job, *, at: datetime) -> Booking | None:
    """Return the session of a job that was called off today and may stand again."""
    gone = job.bookings.filter(status=BookingStatus.CANCELLED).chosen()
    for booking in gone.select_related("place", "job").order_by("-pk")[:3]:
        if may_be_taken_up(booking, at=at):
            return booking
    return None


def change_lines(job: Job) -> list[ChangeLine]:
    """Return what was moved or called off, the newest first. One query."""
    changes = SessionChange.objects.filter(booking__job=job)
    return [_line(one) for one in changes.select_related("by", "booking__place")[:20]]


def _line(change: SessionChange) -> ChangeLine:
    was = change.was_starts_at.astimezone(change.booking.place.zone)
    when = f"{was:%H:%M} on {day_year(was)}"
    what = {
        ChangeKind.MOVED: f"Moved from {when}",
        ChangeKind.CANCELLED: f"Called off: {when}",
        ChangeKind.TAKEN_UP: f"Taken up again: {when}",
    }[ChangeKind(change.kind)]
    return ChangeLine(
        at=change.at, what=what, who=str(change.by), because=change.because
    )
