"""What the parts of one page share: read once a request, however many parts ask."""

from __future__ import annotations

from jobs.bookings.models import Booking
from jobs.bookings.queries import session_to_show
from jobs.jobs.models import Job
from studio.http import StaffRequest


def session_on(request: StaffRequest, job: Job) -> Booking | None:
    """Return the session that a job's page is about, or None if it has none."""
    kept: dict[int, Booking | None] = request.__dict__.setdefault("sessions", {})
    if job.pk not in kept:
        booking = session_to_show(job)
        if booking is not None:
            booking.job = job
        kept[job.pk] = booking
    return kept[job.pk]
