from datetime import timedelta
from itertools import product

import pytest

from jobs.bookings.models import Reservation
from jobs.bookings.operations import confirm_booking, pencil_booking
from jobs.bookings.sessions import call_job_off, finish_session, give_job_up
from jobs.bookings.states import BookingStatus
from jobs.jobs.models import Job
from jobs.jobs.operations import (
    close_as_cancelled,
    close_as_lost,
    close_as_paid,
    mark_booked,
    mark_delivered,
    mark_quoted,
    mark_shot,
    reopen_job,
)
from jobs.jobs.queries import still_to_come
from jobs.jobs.states import MOVES, OPEN, JobMoveError, JobStage, move
from studio.history.models import JournalEntry
from tests.make import NOON, make_booking, make_item, make_job, make_person

WAYS = {
    (JobStage.ENQUIRY, JobStage.QUOTED),
    (JobStage.ENQUIRY, JobStage.BOOKED),
    (JobStage.ENQUIRY, JobStage.LOST),
    (JobStage.QUOTED, JobStage.BOOKED),
    (JobStage.QUOTED, JobStage.LOST),
    (JobStage.BOOKED, JobStage.SHOT),
    (JobStage.BOOKED, JobStage.CANCELLED),
    (JobStage.SHOT, JobStage.DELIVERED),
    (JobStage.SHOT, JobStage.PAID),
    (JobStage.DELIVERED, JobStage.PAID),
    (JobStage.LOST, JobStage.ENQUIRY),
}


@pytest.mark.parametrize(("stage", "to"), product(JobStage, JobStage))
def test_a_job_goes_from_stage_to_stage_only_by_the_ways_there_are(
    stage: JobStage, to: JobStage
) -> None:
    if (stage, to) in WAYS:
        assert move(stage, to) == to
    else:
        with pytest.raises(JobMoveError, match=to.label.lower()):
            move(stage, to)


def test_every_stage_has_its_moves() -> None:
    assert set(MOVES) == set(JobStage)


# What each operation leads to, and from where it is refused.
OPERATIONS = {
    "booked": (mark_booked, JobStage.BOOKED),
    "shot": (mark_shot, JobStage.SHOT),
    "delivered": (mark_delivered, JobStage.DELIVERED),
    "paid": (close_as_paid, JobStage.PAID),
    "lost": (close_as_lost, JobStage.LOST),
    "cancelled": (close_as_cancelled, JobStage.CANCELLED),
    "reopened": (reopen_job, JobStage.ENQUIRY),
}


def job_at(stage: JobStage) -> Job:
    job = make_job()
    closed_at = None if stage in OPEN else NOON
    Job.objects.filter(pk=job.pk).update(stage=stage, closed_at=closed_at)
    return job


@pytest.mark.django_db
@pytest.mark.parametrize(("stage", "name"), product(JobStage, OPERATIONS))
def test_each_operation_moves_a_job_or_leaves_it_untouched(
    stage: JobStage, name: str
) -> None:
    act, to = OPERATIONS[name]
    job, ada = job_at(stage), make_person()
    written = JournalEntry.objects.count()
    words = {"because": "Another date"} if name in {"lost", "cancelled"} else {}
    stays = name == "booked" and stage == JobStage.BOOKED
    goes = (stage, to) in WAYS

    if goes or stays:
        act(job_id=job.pk, by=ada, at=NOON, **words)  # type: ignore[operator]
        expected, lines = to, written + (not stays)
    else:
        with pytest.raises(JobMoveError):
            act(job_id=job.pk, by=ada, at=NOON, **words)  # type: ignore[operator]
        expected, lines = stage, written

    job.refresh_from_db()
    assert job.stage == expected
    assert (job.closed_at is None) == (expected in OPEN)
    assert JournalEntry.objects.count() == lines
    assert job.closed_because == (words.get("because", "") if goes else "")


@pytest.mark.django_db
@pytest.mark.parametrize("stage", JobStage)
def test_a_quote_that_goes_out_moves_an_enquiry_only(stage: JobStage) -> None:
    job = job_at(stage)

    mark_quoted(job_id=job.pk, by=job.owner, at=NOON)

    job.refresh_from_db()
    assert job.stage == (JobStage.QUOTED if stage == JobStage.ENQUIRY else stage)


@pytest.mark.django_db
def test_a_job_that_is_given_up_frees_what_its_sessions_held() -> None:
    ada, tripod = make_person(), make_item()
    booking = make_booking(items=(tripod,), people=(ada,))
    pencil_booking(booking_id=booking.pk, until=None, by=ada, at=NOON)

    give_job_up(job_id=booking.job_id, because="Too dear", by=ada, at=NOON)

    booking.refresh_from_db()
    assert booking.status == BookingStatus.CANCELLED
    assert not Reservation.objects.filter(holds=True).exists()
    assert Job.objects.get().closed_because == "Too dear"


@pytest.mark.django_db
def test_a_job_that_cannot_be_called_off_keeps_its_session() -> None:
    booking = make_booking()
    confirm_booking(booking_id=booking.pk, by=booking.job.owner, at=NOON)

    with pytest.raises(JobMoveError):
        call_job_off(
            job_id=booking.job_id, because="Rain", by=booking.job.owner, at=NOON
        )

    booking.refresh_from_db()
    assert booking.status == BookingStatus.CONFIRMED


@pytest.mark.django_db
def test_a_booked_job_that_is_called_off_frees_its_session() -> None:
    booking = make_booking()
    ada = booking.job.owner
    confirm_booking(booking_id=booking.pk, by=ada, at=NOON)
    mark_booked(job_id=booking.job_id, by=ada, at=NOON)

    job = call_job_off(job_id=booking.job_id, because="Illness", by=ada, at=NOON)

    booking.refresh_from_db()
    assert (job.stage, job.closed_because) == (JobStage.CANCELLED, "Illness")
    assert booking.status == BookingStatus.CANCELLED


@pytest.mark.django_db
def test_a_shot_job_completes_the_sessions_it_held_and_dates_its_pictures() -> None:
    job = make_job()
    held, loose = make_booking(job=job), make_booking(job=job)
    pencil_booking(booking_id=held.pk, until=None, by=job.owner, at=NOON)
    mark_booked(job_id=job.pk, by=job.owner, at=NOON)

    shot = finish_session(job_id=job.pk, by=job.owner, at=NOON)

    held.refresh_from_db()
    loose.refresh_from_db()
    assert (held.status, loose.status) == (
        BookingStatus.COMPLETED,
        BookingStatus.PROPOSED,
    )
    assert shot.pictures_by_on == NOON.date() + timedelta(days=21)


def test_what_is_still_to_come_is_said_in_two_stages() -> None:
    assert still_to_come("BOOKED") == "Shot, then Delivered, still to come"
    assert still_to_come("SHOT") == "Delivered, still to come"
    assert still_to_come("DELIVERED") == "Paid, still to come"
    assert still_to_come("LOST") == ""
