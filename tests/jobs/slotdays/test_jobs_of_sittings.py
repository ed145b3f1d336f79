"""A job that somebody got with a time of a slot day has that time for its session."""

from __future__ import annotations

from datetime import timedelta

import pytest
from django.test import Client as Browser

from jobs.bookings.moving import call_off
from jobs.bookings.operations import confirm_booking
from jobs.jobs.models import Job
from jobs.jobs.next_step import next_step
from jobs.jobs.queries import JobFilter, list_jobs, sitting_of
from jobs.slotdays.models import Sitting
from jobs.slotdays.operations import Offer, make_slot_day
from jobs.slotdays.taking import Visitor, take_sitting
from studio.people.models import Person
from studio.timespan import TimeSpan
from tests.make import NOON, make_booking, make_job, make_person, make_profile

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("noon")]
HOUR = timedelta(hours=1)


@pytest.fixture
def ada() -> Person:
    make_profile()
    return make_person()


@pytest.fixture
def second(ada: Person) -> Sitting:
    """The second hour of a firm session from 13:00 to 15:00 on 1 July, taken."""
    booking = make_booking(job=make_job("The day", by=ada), hours=2)
    confirm_booking(booking_id=booking.pk, by=ada, at=NOON)
    start = booking.starts_at
    hours = [TimeSpan(start, start + HOUR), TimeSpan(start + HOUR, start + 2 * HOUR)]
    offer = Offer(
        title="Portraits", words="", price_minor=None, currency="GBP", closes_at=start
    )
    day = make_slot_day(
        booking_id=booking.pk, offer=offer, times=hours, by=ada, at=NOON
    )
    return take_sitting(
        sitting_id=day.sittings.order_by("-starts_at")[0].pk,
        visitor=Visitor(name="Thorn family", phone="01632 960031"),
        by=ada,
        at=NOON,
    )


def page_of(ada: Person, job: Job) -> str:
    browser = Browser()
    browser.force_login(ada)
    return browser.get(job.get_absolute_url()).content.decode()


def test_its_page_shows_the_sitting_and_asks_for_no_date(
    ada: Person, second: Sitting
) -> None:
    assert second.job
    path = second.job.get_absolute_url()

    page = page_of(ada, second.job)

    assert "Give it a date" not in page
    assert "Find a slot" not in page
    assert "Change sitting" in page
    assert f'href="/jobs/sittings/{second.pk}/"' in page
    assert "Next: <b>prepare the session</b>" in page
    assert f'href="{path}shot/"' in page  # it is still to come, so it is asked about


def test_it_is_shot_when_its_own_time_is_over(ada: Person, second: Sitting) -> None:
    job = Job.objects.get(sitting=second)
    steps = [
        next_step(job, sitting_of(job), at=second.starts_at + minutes)
        for minutes in (-HOUR / 2, HOUR / 2, HOUR)
    ]

    assert steps == ["Prepare the session", "Shoot", "Note that it was shot"]


def test_the_list_has_the_time_of_the_sitting(second: Sitting) -> None:
    rows = list_jobs(JobFilter(), page="1", at=NOON).rows

    starts = {row.title: row.session and row.session.starts_at for row in rows}
    assert starts["Portraits"] == second.starts_at
    assert starts["The day"] == second.starts_at - HOUR


def test_a_day_that_is_called_off_leaves_it_without_a_date(
    ada: Person, second: Sitting
) -> None:
    assert second.job
    booking = second.slot_day.booking
    call_off(booking_id=booking.pk, because="Ill", by=ada, at=NOON)

    page = page_of(ada, Job.objects.get(pk=second.job.pk))

    assert "No date yet" in page
    assert "Give it a date" in page
    assert "Change sitting" not in page
