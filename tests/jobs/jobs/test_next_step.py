from datetime import timedelta

import pytest

from jobs.bookings.models import Booking
from jobs.bookings.states import BookingStatus as Status
from jobs.jobs.models import Job
from jobs.jobs.next_step import next_step
from jobs.jobs.states import JobStage
from tests.make import NOON


def session(status: Status, *, days: float = 10) -> Booking:
    starts_at = NOON + timedelta(days=days)
    return Booking(
        status=status, starts_at=starts_at, ends_at=starts_at + timedelta(hours=2)
    )


@pytest.mark.parametrize(
    ("booking", "step"),
    [
        (None, "Give it a date"),
        (session(Status.PROPOSED), "Pencil the session in"),
        (session(Status.PENCILLED), "Confirm the session"),
        (session(Status.CONFIRMED), "Prepare the session"),
        (session(Status.CONFIRMED, days=0), "Shoot"),
        (session(Status.CONFIRMED, days=-1), "Note that it was shot"),
    ],
)
def test_a_booked_job_waits_for_what_its_session_lacks(
    booking: Booking | None, step: str
) -> None:
    assert next_step(Job(stage=JobStage.BOOKED), booking, at=NOON) == step


def test_every_open_stage_has_a_next_step_and_no_closed_one() -> None:
    for stage in JobStage:
        job = Job(stage=stage)
        assert bool(next_step(job, None, at=NOON)) == job.is_open

    assert next_step(Job(stage=JobStage.ENQUIRY), None, at=NOON) == "Answer the enquiry"
