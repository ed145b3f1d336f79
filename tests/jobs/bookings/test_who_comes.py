from typing import Any

import pytest
from django.test import Client as Browser

from jobs.bookings.models import Booking, Part
from tests.make import make_booking, make_client, make_job, make_person, make_profile

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("noon")]


@pytest.fixture
def booking() -> Booking:
    make_profile()
    client = make_client("Quartet", contact_name="Ines Marlow", phone="+441632960118")
    return make_booking(job=make_job(client=client, by=make_person()))


@pytest.fixture
def browser(booking: Booking) -> Browser:
    browser = Browser()
    browser.force_login(booking.job.owner)
    return browser


def lines(*rows: dict[str, str], initial: int = 0) -> dict[str, Any]:
    posted = {"who-TOTAL_FORMS": str(len(rows)), "who-INITIAL_FORMS": str(initial)}
    for number, row in enumerate(rows):
        usual = {"name": "", "part": "SITTER", "role": "", "phone": "", "email": ""}
        posted |= {f"who-{number}-{key}": one for key, one in (usual | row).items()}
    return posted


def path(booking: Booking) -> str:
    return f"/jobs/sessions/{booking.pk}/people/"


def test_the_list_begins_with_the_client(browser: Browser, booking: Booking) -> None:
    page = browser.get(path(booking)).content.decode()

    assert 'value="Ines Marlow"' in page
    assert 'value="01632 960118"' in page


def test_who_comes_is_kept_in_the_order_given(
    browser: Browser, booking: Booking
) -> None:
    rows: tuple[dict[str, str], ...] = (
        {"name": "Ines Marlow", "part": "CLIENT", "phone": "01632 960118"},
        {"name": "Ωμέγα Север", "role": "cello"},
        {},
        {"name": "Jo Reed", "part": "CREW", "email": "jo@reed.example"},
    )

    page = browser.post(path(booking), lines(*rows), follow=True).content.decode()

    kept = list(booking.attendees.values_list("name", "part", "phone"))
    assert kept == [
        ("Ines Marlow", Part.CLIENT, "+441632960118"),
        ("Ωμέγα Север", Part.SITTER, ""),
        ("Jo Reed", Part.CREW, ""),
    ]
    assert "Ωμέγα Север" in page
    assert 'href="tel:+441632960118"' in page


def test_a_line_is_removed_by_its_tick(browser: Browser, booking: Booking) -> None:
    rows = [{"name": "Stays"}, {"name": "Goes", "DELETE": "on"}]

    browser.post(path(booking), lines(*rows, initial=2))

    assert [one.name for one in booking.attendees.all()] == ["Stays"]


def test_a_line_is_added_and_what_was_typed_stays(
    browser: Browser, booking: Booking
) -> None:
    posted = lines({"name": "Jo Reed"}) | {"add_line": "1"}

    page = browser.post(path(booking), posted).content.decode()

    assert 'name="who-TOTAL_FORMS" value="2"' in page
    assert 'value="Jo Reed"' in page
    assert not booking.attendees.exists()


def test_a_bad_number_is_named_by_its_line(browser: Browser, booking: Booking) -> None:
    rows = ({"name": "Jo"}, {"name": "Ned", "phone": "none"}, {"role": "cello"})

    page = browser.post(path(booking), lines(*rows)).content.decode()

    assert "Line 2: " in page
    assert "Write a phone number in figures" in page
    assert "Line 3: Fill in “Name”." in page
    assert not booking.attendees.exists()


def test_a_count_that_nobody_typed_is_refused_calmly(
    browser: Browser, booking: Booking
) -> None:
    posted = lines({"name": "Jo"}) | {"who-TOTAL_FORMS": "100000"}

    assert browser.post(path(booking), posted).status_code == 200
    assert browser.post(path(booking), {}).status_code == 200
