"""The light of a date: the page, with a place, coordinates or neither; the command."""

import json
from datetime import UTC, date, datetime
from io import StringIO
from types import SimpleNamespace

import pytest
from django.core.management import call_command
from django.core.management.base import CommandError
from django.test import Client
from django.urls import reverse

from planning.days import views
from planning.days.queries import shown_day, spot_at, spot_of
from tests.make import make_person, make_profile
from tests.make_planning import make_quay

NOON = datetime(2027, 10, 14, 11, tzinfo=UTC)


def page(hats: str = "planner", **query: str) -> str:
    client = Client()
    client.force_login(make_person(hats=hats))
    return client.get(reverse("planning:light_day"), query).content.decode()


@pytest.mark.django_db
def test_it_opens_with_the_studios_home_and_today(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    # By day: at night the strip, which runs from dawn to dusk, has no place for "now".
    monkeypatch.setattr(views, "timezone", SimpleNamespace(now=lambda: NOON))
    make_profile(home_name="Sandhaven", home_latitude=54.47, home_longitude=-0.62)
    told = page()
    assert "Sandhaven" in told
    assert "Sun highest" in told
    assert "now " in told


@pytest.mark.django_db
def test_without_a_home_it_says_what_will_be_here() -> None:
    make_profile()
    assert "home place stands here once it is set" in page()


@pytest.mark.django_db
def test_a_saved_place_brings_its_skyline() -> None:
    make_profile()
    place = make_quay()
    told = page(place=str(place.pk), on="2027-10-14")
    assert "headland" in told
    assert "Thursday 14 October 2027" in told


@pytest.mark.django_db
def test_pasted_coordinates_find_their_own_clock() -> None:
    make_profile()
    told = page(position="geo:40.71,-74.01", on="2027-10-14")
    assert "America/New_York" in told


@pytest.mark.django_db
def test_what_is_no_place_is_refused_at_the_box() -> None:
    make_profile(home_name="Sandhaven", home_latitude=54.47, home_longitude=-0.62)
    told = page(position="the usual corner", on="2027-10-14")
    assert "Paste latitude and longitude" in told
    assert "Sun highest" not in told


@pytest.mark.django_db
def test_a_bookkeeper_has_no_light_page() -> None:
    client = Client()
    client.force_login(make_person(hats="bookkeeper"))
    assert client.get(reverse("planning:light_day")).status_code == 403


def test_a_polar_day_and_a_polar_night_are_shown_whole() -> None:
    # From memory: Tromsø has no sunset in late June and no sunrise in late December.
    north = spot_at(69.65, 18.96)
    summer = shown_day(north, date(2027, 6, 21), NOON)
    assert summer.state == "The sun does not set that day."
    assert "down" not in {row.height for row in summer.rows}
    winter = shown_day(north, date(2027, 12, 21), NOON)
    assert winter.state == "The sun does not rise that day."
    assert {row.height for row in winter.rows} == {"down"}


def test_the_pole_itself_and_the_date_line_have_a_page() -> None:
    for latitude_deg, longitude_deg in ((90.0, 0.0), (-90.0, 10.0), (0.0, 180.0)):
        spot = spot_at(latitude_deg, longitude_deg)
        assert shown_day(spot, date(2027, 3, 20), NOON).chart.ops


@pytest.mark.parametrize(
    "on", [date(2027, 3, 28), date(2027, 10, 31), date(2028, 2, 29)]
)
def test_days_of_changing_clocks_are_drawn_from_end_to_end(on: date) -> None:
    day = shown_day(spot_at(54.47, -0.62), on, NOON)
    assert day.strip.ops
    assert day.rows


@pytest.mark.django_db
def test_a_place_is_shown_under_its_own_name() -> None:
    assert spot_of(make_quay()).name == "Sandhaven slipway"


def test_the_command_tells_what_an_ephemeris_tells() -> None:
    # skyfield 1.55 with JPL's DE421, at 54.47, -0.62: sunrise 06:28:34 and sunset
    # 17:07:33 UTC on 14 October 2027.
    out = StringIO()
    at = "2027-10-14T17:07:33+00:00"
    call_command("light", at=at, latitude=54.47, longitude=-0.62, json=True, stdout=out)
    told = json.loads(out.getvalue())
    assert told["sun"]["altitude_deg"] == pytest.approx(-0.8333, abs=0.01)
    for name, time in (("sunrise", "06:28:34"), ("sunset", "17:07:33")):
        expected = datetime.fromisoformat(f"2027-10-14T{time}+00:00")
        found = datetime.fromisoformat(told["events"][name])
        assert abs((found - expected).total_seconds()) <= 1.5
    assert told["time_zone"] == "Europe/London"
    assert set(told["light"]) == {
        "CLEAR",
        "PARTLY_CLOUDY",
        "OVERCAST",
        "HEAVY_OVERCAST",
    }


def test_the_command_tells_what_f4_needs_with_its_bounds() -> None:
    # Exposure table (ANSI PH2.7-1986 as reprinted): a clear sun well up is EV 15 on
    # what faces it, so f/4 at ISO 100 needs 16 / 2^15 s, 1/2000 s as marked; a third
    # of a stop either way is 1/1600 s and 1/2500 s.
    out = StringIO()
    call_command(
        "light",
        at="2027-06-21T09:00+01:00",
        latitude=54.47,
        longitude=-0.62,
        json=True,
        stdout=out,
    )
    clear = json.loads(out.getvalue())["light"]["CLEAR"]
    assert clear["facing_sun_exposure_value"] == pytest.approx(15.0, abs=0.25)
    assert clear["darker_by_stops"] == pytest.approx(1 / 3)
    assert clear["facing_sun_at_f4_iso_100"] == "1/2000 s"
    assert clear["facing_sun_at_f4_iso_100_darkest"] == "1/1600 s"
    assert clear["facing_sun_at_f4_iso_100_brightest"] == "1/2500 s"


def test_the_command_speaks_of_minutes_at_night() -> None:
    # 0.0005 lx is EV -12.3 (log2 of 0.0002): f/4 at ISO 100 needs 16 * 2^12.3 s,
    # 80,000 s or 1,333 minutes.
    out = StringIO()
    call_command(
        "light", at="2027-12-12T23:30", latitude=54.47, longitude=-0.62, stdout=out
    )
    assert "f/4 at ISO 100 needs 1,333 min" in out.getvalue()


def test_the_command_speaks_in_words_too() -> None:
    out = StringIO()
    call_command(
        "light",
        at="2027-06-21T12:00+02:00",
        latitude=69.65,
        longitude=18.96,
        stdout=out,
    )
    assert "sun always up" in out.getvalue()
    assert "Europe/Oslo" in out.getvalue()


@pytest.mark.parametrize(
    ("at", "latitude"), [("yesterday", 54.0), ("2027-06-21T12:00", 99.0)]
)
def test_the_command_refuses_what_is_no_time_or_place(at: str, latitude: float) -> None:
    with pytest.raises(CommandError):
        call_command("light", at=at, latitude=latitude, longitude=0.0)
