from datetime import timedelta

import pytest
from django.test import Client as Browser
from pytest_django import DjangoAssertNumQueries

from jobs.bookings.models import Attendee
from jobs.bookings.operations import confirm_booking, list_attendees, pencil_booking
from jobs.bookings.queries import session_gaps
from studio.panels import TodayItem, today_items
from studio.people.models import Person
from studio.people.policy import Hat
from tests.make import (
    NOON,
    make_booking,
    make_item,
    make_job,
    make_person,
    make_place,
    make_profile,
)

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("noon")]


@pytest.fixture
def ada() -> Person:
    make_profile()
    return make_person()


def of(person: Person, start: str, *hats: Hat) -> list[TodayItem]:
    items = today_items(person, NOON, hats or tuple(Hat))
    return [item for item in items if item.title.startswith(start)]


def test_an_enquiry_is_late_when_its_promised_day_is_over(ada: Person) -> None:
    job = make_job(by=ada)

    def group(days: int) -> str:
        (item,) = [
            one
            for one in today_items(ada, NOON + timedelta(days=days), [Hat.OWNER])
            if one.title.startswith(f"Answer {job.client}")
        ]
        return item.group

    # Enquired on a Sunday, answered by Monday.
    assert [group(days) for days in (0, 1, 2)] == ["soon", "today", "late"]


def test_a_hold_that_runs_out_is_asked_about_in_time(ada: Person) -> None:
    for title, hours in (("Tonight", 8), ("Tuesday", 50), ("Far off", 100)):
        booking = make_booking(job=make_job(title, by=ada))
        until = NOON + timedelta(hours=hours)
        pencil_booking(booking_id=booking.pk, until=until, by=ada, at=NOON)

    items = of(ada, "Ask ")

    assert [(item.group, item.reason) for item in items] == [
        ("today", "The hold on Tonight runs out tonight."),
        ("soon", "The hold on Tuesday runs out on Tuesday."),
    ]


def test_a_session_that_is_near_says_what_is_missing(ada: Person) -> None:
    soon = NOON + timedelta(days=3)
    bare = make_booking(job=make_job("Bare", by=ada), starts_at=soon)
    full = make_booking(
        job=make_job("Full", by=ada),
        place=make_place("The studio", is_room=True),
        items=(make_item(),),
        starts_at=soon,
    )
    who = [Attendee(name="Jo Reed")]
    list_attendees(booking_id=full.pk, attendees=who, by=ada, at=NOON)
    for booking in (bare, full):
        confirm_booking(booking_id=booking.pk, by=ada, at=NOON)

    (item,) = of(ada, "Complete ")

    assert item.title == "Complete the session of Bare"
    assert item.reason == (
        "Wed 24 Jun, 13:00. Still missing: who comes and the kit and who decides on "
        "the weather."
    )
    assert item.url == f"/jobs/sessions/{bare.pk}/people/"


def test_the_gaps_take_three_queries(
    ada: Person, django_assert_num_queries: DjangoAssertNumQueries
) -> None:
    for day in range(1, 6):
        booking = make_booking(
            job=make_job(by=ada), starts_at=NOON + timedelta(days=day)
        )
        confirm_booking(booking_id=booking.pk, by=ada, at=NOON)

    with django_assert_num_queries(3):
        assert len(session_gaps(NOON, ahead=timedelta(days=7))) == 5


@pytest.mark.parametrize(
    ("hat", "sees"), [("owner", True), ("planner", True), ("bookkeeper", False)]
)
def test_planner_and_owner_see_sessions_to_complete_and_the_bookkeeper_does_not(
    hat: str, sees: bool, ada: Person
) -> None:
    booking = make_booking(job=make_job(by=ada), starts_at=NOON + timedelta(days=2))
    confirm_booking(booking_id=booking.pk, by=ada, at=NOON)
    browser = Browser()
    browser.force_login(make_person(hats=hat))

    page = browser.get("/today/?for=everyone").content.decode()

    assert ("Complete the session" in page) is sees
