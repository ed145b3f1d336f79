"""Noting weather for a session, and what its plan says to it."""

from typing import Any

import pytest
from django.test import Client as Browser

from planning.shoots.models import ShootPlan
from planning.weather.models import WeatherSeen
from studio.history.models import JournalEntry
from tests.make import make_booking, make_person, make_profile

pytestmark = pytest.mark.django_db
READ: dict[str, Any] = {
    "read_in": "Harbour board",
    "at_time": "13:30",
    "cloud_oktas": "6",
    "wind": "20",
    "gust": "30",
    "wind_unit": "mph",
}


@pytest.fixture
def planner(client: Browser) -> Browser:
    make_profile()
    client.force_login(make_person("Bram Okoro", hats="planner"))
    return client


def test_what_was_read_stands_on_the_plan_and_offers_its_sky(planner: Browser) -> None:
    booking = make_booking()

    page = planner.post(f"/plan/{booking.pk}/weather/", READ, follow=True)

    told = page.content.decode()
    seen = WeatherSeen.objects.get()
    assert seen.gust_ms == pytest.approx(13.4, abs=0.05)  # 30 mph
    assert "Planned clear; seen 6/8 cloud: broken cloud." in told
    assert "Plan for broken cloud" in told
    assert "Gusts of force 6, strong breeze" in told
    assert JournalEntry.objects.filter(verb="weather noted").exists()


def test_the_sky_of_the_plan_changes_only_when_somebody_says_so(
    planner: Browser,
) -> None:
    booking = make_booking()
    planner.post(f"/plan/{booking.pk}/weather/", READ)
    assert not ShootPlan.objects.filter(sky="broken").exists()

    page = planner.post(f"/plan/{booking.pk}/sky/", {"sky": "broken"}, follow=True)

    assert "The plan’s sky agrees: broken cloud." in page.content.decode()


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ({"gust": "10"}, "Gusts are at least as strong as the wind."),
        (
            {"cloud_oktas": "", "wind": "", "gust": ""},
            "Write down one figure at least.",
        ),
        ({"cloud_oktas": "9"}, "8"),
    ],
)
def test_what_cannot_be_is_said_beside_its_field(
    planner: Browser, typed: dict[str, str], sentence: str
) -> None:
    booking = make_booking()

    page = planner.post(f"/plan/{booking.pk}/weather/", READ | typed)

    assert sentence in page.content.decode()
    assert "Harbour board" in page.content.decode()
    assert not WeatherSeen.objects.exists()


def test_a_plan_without_weather_asks_for_it(planner: Browser) -> None:
    page = planner.get(f"/plan/{make_booking().pk}/").content.decode()

    assert "None read yet." in page
