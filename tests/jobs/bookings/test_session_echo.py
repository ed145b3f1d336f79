from datetime import date
from typing import Any

import pytest
from django.test import Client as Browser

from jobs.bookings.operations import confirm_booking
from jobs.jobs.models import Job
from studio.people.models import Person
from tests.jobs.bookings.session_forms import echo, sun_on, take, typed, url
from tests.make import (
    NOON,
    make_booking,
    make_job,
    make_place,
)

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("noon")]


def test_the_echo_tells_the_sun_and_whether_all_is_free(
    browser: Browser, job: Job, ada: Person
) -> None:
    place = make_place()

    said = echo(browser, job, typed(place, people=[ada.pk]))

    assert said == f"Wednesday. {sun_on(place, date(2026, 10, 14))}. Free."


def test_the_echo_names_the_clash(browser: Browser, job: Job, ada: Person) -> None:
    take(ada)

    said = echo(browser, job, typed(make_place(), people=[ada.pk]))
    without = echo(browser, job, typed(make_place()))

    assert "Ada Vane is taken on Wed 14 Oct 2026 from 16:00 to 18:00" in said
    assert "Free, though at the same time there is Shop portraits." in without


def test_the_echo_of_a_session_does_not_clash_with_itself(
    browser: Browser, ada: Person
) -> None:
    booking = make_booking(people=(ada,))
    confirm_booking(booking_id=booking.pk, by=ada, at=NOON)

    page = browser.get(url(booking.job)).content.decode()

    sun = sun_on(booking.place, date(2026, 7, 1))
    assert f"Wednesday. {sun}. Free." in page


def test_the_echo_knows_a_night_without_end_and_a_day_without_one(
    browser: Browser, job: Job
) -> None:
    north: dict[str, Any] = {"new_name": "Fjord", "new_position": "69.65, 18.96"}

    summer = echo(browser, job, typed(day="2026-06-24", **north))
    winter = echo(browser, job, typed(day="2026-12-21", **north))

    assert summer == "Wednesday. The sun does not set. Free."
    assert winter == "Monday. The sun does not rise. Free."


def test_the_echo_says_what_it_can_of_half_an_answer(
    browser: Browser, job: Job
) -> None:
    place = make_place()

    assert echo(browser, job, {}) == ""
    assert echo(browser, job, {"day": "2026-10-14"}) == "Wednesday."
    assert echo(browser, job, {"day": "2026-10-14", "place": place.pk}).startswith(
        "Wednesday. Sunrise"
    )
    night = typed(place, day="2026-10-25", starts="01:30", ends="05:00")
    assert "01:30 comes twice" in echo(browser, job, night)
    late = echo(browser, job, typed(place, ends="01:30"))
    assert "Ends on Thursday at 01:30." in late


def test_the_echo_holds_no_markup_of_a_title(browser: Browser, ada: Person) -> None:
    ugly = make_job('<img src="file:///etc/passwd"/> & Söhne', by=ada)
    take(ada, job=ugly)

    said = echo(browser, make_job(by=ada), typed(make_place(), people=[ada.pk]))

    assert "&lt;img src=" in said
    assert "<img" not in said


def test_the_clock_of_a_pasted_position_is_told(browser: Browser) -> None:
    told = browser.get("/kit/places/clock/", {"new_position": "69.65, 18.96"})
    wrong = browser.get("/kit/places/clock/", {"coordinates": "<b>north</b>"})

    assert told.content.decode() == (
        "69.650 N, 18.960 E. Clock of Europe/Oslo: now 14:00."
    )
    assert "Paste latitude and longitude" in wrong.content.decode()
    assert browser.get("/kit/places/clock/").content == b""
