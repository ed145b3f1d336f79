"""The next step of a job, derived from its stage and its session."""

from __future__ import annotations

from datetime import datetime

from jobs.bookings.models import Booking
from jobs.bookings.states import BookingStatus
from jobs.jobs.models import Job
from jobs.jobs.states import JobStage
from jobs.slotdays.models import Sitting


def next_step(job: Job, session: Booking | Sitting | None, *, at: datetime) -> str:
    """Return what is to be done next for a job, nothing where it is closed.

    Its session is one of its own, or its sitting of a slot day.
    """
    if not job.is_open:
        return ""
    if job.waits_for_answer:
        return "Answer the enquiry"
    before = {
        JobStage.ENQUIRY: "Send a quote",
        JobStage.SHOT: "Hand the pictures over",
        JobStage.DELIVERED: "See that it is paid",
    }
    stage = JobStage(job.stage)
    if stage in before:
        return before[stage]
    if stage == JobStage.QUOTED:
        return "Get their yes"
    return _for_session(session, at)


def _for_session(session: Booking | Sitting | None, at: datetime) -> str:
    """Return what a booked job waits for: a date, a firm one, or the day itself."""
    status = session.status if isinstance(session, Booking) else ""
    if session is None or status == BookingStatus.COMPLETED:
        return "Give it a date"
    if session.ends_at <= at:
        return "Note that it was shot"
    if status == BookingStatus.PROPOSED:
        return "Pencil the session in"
    if status == BookingStatus.PENCILLED:
        return "Confirm the session"
    return "Prepare the session" if session.starts_at > at else "Shoot"
