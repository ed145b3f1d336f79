from datetime import timedelta
from typing import Any

import pytest
from django.test import Client as Browser
from pytest_django import DjangoAssertNumQueries

from jobs.bookings.operations import cancel_booking
from jobs.places.models import Place
from jobs.places.queries import list_places
from jobs.places.zones import time_zone_at
from tests.make import NOON, make_booking, make_person, make_place, make_profile

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("noon")]

UGLY = '<img src="file:///etc/passwd"/> & Söhne'


@pytest.fixture
def browser() -> Browser:
    make_profile()
    browser = Browser()
    browser.force_login(make_person(hats="planner"))
    return browser


def typed(**answers: Any) -> dict[str, Any]:
    return {"name": "Slipway", "coordinates": "54.47, -0.62"} | answers


@pytest.mark.parametrize(
    ("coordinates", "zone"),
    [
        ("54.47, -0.62", "Europe/London"),
        ("69°39'00\"N 18°57'36\"E", "Europe/Oslo"),
        ("geo:-34.61,-58.38", "America/Argentina/Buenos_Aires"),
        ("https://maps.example/@27.71,85.32,15z", "Asia/Kathmandu"),
        ("0, -30", "Etc/GMT+2"),
    ],
)
def test_a_place_gets_the_clock_of_its_coordinates(
    browser: Browser, coordinates: str, zone: str
) -> None:
    page = browser.post(
        "/kit/places/new/", typed(coordinates=coordinates), follow=True
    ).content.decode()

    assert Place.objects.get().time_zone == zone
    assert f"It goes by the clock of {zone}." in page


def test_the_clock_of_a_point_anywhere_is_one_that_there_is() -> None:
    for latitude_deg in range(-90, 91, 30):
        for longitude_deg in range(-180, 181, 45):
            assert time_zone_at(latitude_deg, longitude_deg)


def test_a_place_is_changed_with_all_that_is_known_of_it(browser: Browser) -> None:
    place = make_place()

    browser.post(
        f"/kit/places/{place.pk}/edit/",
        typed(
            name=UGLY,
            is_room="on",
            access_until="6pm",
            parking="On the hard",
            contact_phone="01632 960140",
        ),
    )
    page = browser.get(place.get_absolute_url()).content.decode()

    place.refresh_from_db()
    assert place.is_room
    assert "<img src=" not in page
    for words in ("&lt;img src=", "Access until 18:00", "On the hard", "01632 960140"):
        assert words in page


def test_the_form_shows_where_a_place_is(browser: Browser) -> None:
    page = browser.get(f"/kit/places/{make_place().pk}/edit/").content.decode()

    assert 'value="54.47, -0.62"' in page
    assert "Goes by the clock of Europe/London." in page


@pytest.mark.parametrize(
    ("answers", "said"),
    [
        ({"name": ""}, "Fill in “Name”."),
        ({"name": "x" * 301}, "at most 300 characters"),
        ({"coordinates": ""}, "Fill in “Where it is”."),
        ({"coordinates": "91, 0"}, "these look swapped"),
        ({"coordinates": "here"}, "Paste latitude and longitude"),
        ({"access_until": "late"}, "Write a time such as"),
    ],
)
def test_bad_input_gets_its_sentence(
    browser: Browser, answers: dict[str, str], said: str
) -> None:
    page = browser.post("/kit/places/new/", typed(**answers)).content.decode()

    assert said in page
    assert not Place.objects.exists()


def test_a_place_shows_its_sessions_to_come_by_its_own_clock(browser: Browser) -> None:
    place = make_place(time_zone="Asia/Kathmandu")
    make_booking(place=place)
    off = make_booking(place=place, starts_at=NOON + timedelta(days=3))
    cancel_booking(booking_id=off.pk, by=off.job.owner, at=NOON)

    page = browser.get(place.get_absolute_url()).content.decode()

    assert "Wed 1 Jul 2026, 17:45" in page
    assert "Wed 24 Jun" not in page


def test_the_list_counts_live_sessions_and_names_the_next(browser: Browser) -> None:
    place, other = make_place("Slipway, Ωμέγα"), make_place("Studio")
    for days in (-5, 5, 9):
        make_booking(place=place, starts_at=NOON + timedelta(days=days))
    off = make_booking(place=other)
    cancel_booking(booking_id=off.pk, by=off.job.owner, at=NOON)

    rows = {row.name: row for row in list_places("", page="1", at=NOON).rows}

    slipway, studio = rows["Slipway, Ωμέγα"], rows["Studio"]
    assert (slipway.sessions, studio.sessions) == (3, 0)
    assert slipway.next_at == NOON + timedelta(days=5)
    assert studio.next_at is None
    assert [row.name for row in list_places("ΩΜΈΓΑ", page="1", at=NOON).rows] == [
        "Slipway, Ωμέγα"
    ]
    assert browser.get("/kit/places/?q=studio").status_code == 200


def test_the_list_takes_two_queries(
    django_assert_num_queries: DjangoAssertNumQueries,
) -> None:
    for number in range(27):
        make_booking(place=make_place(f"Place {number}"))

    with django_assert_num_queries(2):
        assert len(list_places("", page="1", at=NOON).rows) == 25


def test_a_bookkeeper_sees_no_places() -> None:
    make_profile()
    browser = Browser()
    browser.force_login(make_person(hats="bookkeeper"))

    assert browser.get("/kit/places/").status_code == 403
    assert browser.get(make_place().get_absolute_url()).status_code == 403
