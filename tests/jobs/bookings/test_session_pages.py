from datetime import UTC, datetime, timedelta
from typing import Any

import pytest
from django.test import Client as Browser

from jobs.bookings.models import Booking, Reservation
from jobs.bookings.states import BookingStatus
from jobs.jobs.models import Job
from jobs.kits.models import KitCategory
from jobs.kits.operations import KitContent, keep_kit, retire_item
from jobs.places.models import Place
from studio.people.models import Person
from tests.jobs.bookings.session_forms import LONG, TROMSOE, typed, url
from tests.make import (
    NOON,
    make_item,
    make_place,
)

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("noon")]


def test_a_session_is_written_by_the_clock_of_its_place(
    browser: Browser, job: Job
) -> None:
    answer = browser.post(url(job), typed(make_place()), follow=True)

    booking = Booking.objects.get()
    assert booking.starts_at == datetime(2026, 10, 14, 14, tzinfo=UTC)
    assert booking.ends_at == datetime(2026, 10, 14, 17, 45, tzinfo=UTC)
    assert booking.status == BookingStatus.PROPOSED
    page = answer.content.decode()
    assert "The session is Wed 14 Oct 2026, 15:00–18:45." in page
    assert "in 115 days; set-up from 14:30" in page


def test_people_items_and_whole_kits_are_wanted(
    browser: Browser, job: Job, ada: Person
) -> None:
    lens, tripod = make_item("85 mm", KitCategory.LENS), make_item()
    flash, old = make_item("Flash", KitCategory.FLASH), make_item("Old stand")
    kit = keep_kit(
        name="Outdoors",
        holds=KitContent(item_ids=[flash.pk, lens.pk, old.pk]),
        by=ada,
        at=NOON,
    )
    retire_item(item_id=old.pk, by=ada, at=NOON)
    answers = typed(
        make_place(),
        people=[ada.pk],
        whole_kits=[kit.pk],
        items_support=[tripod.pk],
    )

    browser.post(url(job), answers)

    wanted = set(Reservation.objects.values_list("resource", flat=True))
    assert wanted == {
        f"person:{ada.pk}",
        f"kit:{lens.pk}",
        f"kit:{tripod.pk}",
        f"kit:{flash.pk}",
    }


def test_an_end_before_the_start_is_the_next_days(browser: Browser, job: Job) -> None:
    browser.post(url(job), typed(make_place(), starts="22:00", ends="01:30"))

    booking = Booking.objects.get()
    assert booking.ends_at - booking.starts_at == timedelta(hours=3, minutes=30)
    assert "22:00–01:30 on Thu" in browser.get(job.get_absolute_url()).content.decode()


def test_a_new_place_is_kept_with_the_clock_of_its_coordinates(
    browser: Browser, job: Job
) -> None:
    answers = typed(
        new_name=LONG[:300],
        new_address="Havnegata 1\nTromsø",
        new_position="https://maps.example/@69.65,18.96,12z",
        day="2026-06-22",
    )

    page = browser.post(url(job), answers, follow=True).content.decode()

    place = Place.objects.get()
    assert (place.latitude_deg, place.longitude_deg) == TROMSOE
    assert place.time_zone == "Europe/Oslo"
    assert place.name == LONG[:300].strip()
    assert Booking.objects.get().starts_at == datetime(2026, 6, 22, 13, tzinfo=UTC)
    assert "by Oslo time" in page


def test_a_new_place_needs_a_name_and_a_position(browser: Browser, job: Job) -> None:
    page = browser.post(url(job), typed()).content.decode()
    swapped = browser.post(url(job), typed(new_name="X", new_position="118.2, 34.1"))

    assert "Give the new place a name." in page
    assert "Paste where it is" in page
    assert "these look swapped" in swapped.content.decode()
    assert not Place.objects.exists()


@pytest.mark.parametrize(
    ("answers", "said"),
    [
        ({"place": ""}, "Choose “Place”."),
        ({"place": "77"}, "Select a valid choice"),
        ({"day": ""}, "Fill in “Date”."),
        ({"day": "soon"}, "Write a day that exists"),
        ({"starts": "7"}, "7 could be morning or afternoon"),
        ({"ends": "25:00"}, "Write a time such as 15:00"),
        ({"setting_up_minutes": "-5"}, "greater than or equal to 0"),
        ({"setting_up_minutes": "9999"}, "less than or equal to 720"),
        ({"people": ["0"]}, "Select a valid choice"),
        ({"weather_decision": "x" * 301}, "at most 300 characters"),
    ],
)
def test_bad_input_gets_its_sentence_and_nothing_is_kept(
    browser: Browser, job: Job, answers: dict[str, Any], said: str
) -> None:
    page = browser.post(url(job), typed(make_place(), **answers))

    assert page.status_code == 200
    assert said in page.content.decode()
    assert not Booking.objects.exists()


def test_when_the_clocks_go_back_the_start_is_asked_about(
    browser: Browser, job: Job
) -> None:
    # The clocks of the United Kingdom go back on Sunday 25 October 2026 at 01:00 UTC.
    place = make_place()
    night = {"day": "2026-10-25", "starts": "01:30", "ends": "04:00"}

    asked = browser.post(url(job), typed(place, **night)).content.decode()
    browser.post(url(job), typed(place, which="second", **night))

    assert "01:30 comes twice on 25 October 2026" in asked
    assert Booking.objects.get().starts_at == datetime(2026, 10, 25, 1, 30, tzinfo=UTC)


@pytest.mark.parametrize(
    ("answer", "hour"), [("first", 0), ("second", 1)], ids=["first", "second"]
)
def test_an_end_in_the_double_hour_is_asked_about_too(
    browser: Browser, job: Job, answer: str, hour: int
) -> None:
    place = make_place()
    night = {"day": "2026-10-24", "starts": "23:00", "ends": "01:30"}

    asked = browser.post(url(job), typed(place, **night)).content.decode()
    browser.post(url(job), typed(place, which_end=answer, **night))

    assert "01:30 comes twice on 25 October 2026" in asked
    booking = Booking.objects.get()
    assert booking.ends_at == datetime(2026, 10, 25, hour, 30, tzinfo=UTC)
    shown = browser.get(job.get_absolute_url()).content.decode()
    assert f"23:00–01:30 {'GMT' if hour else 'BST'} on Sun" in shown


def test_after_the_second_half_past_one_only_the_second_end_is_left(
    browser: Browser, job: Job
) -> None:
    night = {"day": "2026-10-25", "starts": "01:10", "which": "second"}

    browser.post(url(job), typed(make_place(), ends="01:50", **night))

    booking = Booking.objects.get()
    assert booking.ends_at - booking.starts_at == timedelta(minutes=40)


def test_the_answer_is_kept_when_the_session_is_opened_again(
    browser: Browser, job: Job
) -> None:
    place = make_place()
    night = {"day": "2026-10-25", "starts": "01:30", "ends": "04:00"}
    browser.post(url(job), typed(place, which="second", **night))

    page = browser.get(url(job)).content.decode()

    assert '<input type="hidden" name="which" value="second"' in page


def test_an_hour_that_the_clocks_skip_is_refused(browser: Browser, job: Job) -> None:
    # The clocks of the United Kingdom go forward on Sunday 28 March 2027 at 01:00 UTC.
    spring = {"day": "2027-03-28", "starts": "01:30", "ends": "04:00"}

    page = browser.post(url(job), typed(make_place(), **spring)).content.decode()

    assert "01:30 does not exist on 28 March 2027" in page
    assert not Booking.objects.exists()
