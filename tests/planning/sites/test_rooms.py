"""Rooms and windows of a place, and the set-ups that they light."""

from datetime import UTC, datetime, timedelta

import pytest
from django.test import Client as Browser

from jobs.places.models import Place
from planning.light.illuminance import Sky
from planning.shoots.choices import Light
from planning.shoots.daylight import Daylight
from planning.shoots.models import SetUp
from planning.shoots.queries import where_of
from planning.shoots.rooms import falloff_stops, room_level
from planning.sites.models import Room, Site, Window
from tests.make import make_person, make_place, make_profile

NOON = datetime(2027, 6, 21, 12, tzinfo=UTC)


def make_window(place: Place, **fields: object) -> Window:
    room = Room.objects.create(place=place, name="Nursery", length_m=4.0, width_m=3.5)
    values = {"width_m": 1.2, "height_m": 1.5, "facing_deg": 0.0} | fields
    return Window.objects.create(room=room, name="north window", **values)


def sitting(window: Window, **fields: object) -> SetUp:
    values = {"light": Light.WINDOW, "facing_deg": window.facing_deg} | fields
    return SetUp(window=window, **values)


@pytest.mark.django_db
def test_a_room_and_its_window_are_kept_and_the_needle_is_turned_true(
    client: Browser,
) -> None:
    make_profile()
    client.force_login(make_person("Bram Okoro", hats="planner"))
    place = make_place()
    Site.objects.create(place=place, declination_deg=-2.0)
    size = {"length_m": "4", "width_m": "3.5", "height_m": "2.4", "walls": "white"}

    client.post(f"/places/{place.pk}/rooms/new/", {"name": "Nursery", **size})
    room = Room.objects.get()
    glass = {"width_m": "1.2", "height_m": "1.5", "sill_m": "0.9", "glazing": "double"}
    named = {"name": "north window", "facing": "1 magnetic", "obstruction_deg": "10"}
    client.post(f"/rooms/{room.pk}/windows/new/", glass | named)

    assert Window.objects.get().facing_deg == 359.0
    page = client.get(place.get_absolute_url()).content.decode()
    assert "north window" in page
    client.post(f"/windows/{Window.objects.get().pk}/remove/")
    client.post(f"/rooms/{room.pk}/remove/")
    assert not Room.objects.exists()


@pytest.mark.django_db
def test_the_level_falls_with_distance_and_is_darker_for_the_one_behind() -> None:
    place = make_place()
    window = make_window(place)
    light = Daylight(where_of(place), NOON, NOON + timedelta(hours=1))
    moment = light.moment(NOON)

    near, far = (
        room_level(
            sitting(window, window_distance_m=metres),
            window,
            moment,
            light,
            Sky.OVERCAST,
        )
        for metres in (1.0, 2.5)
    )
    row = sitting(window, window_distance_m=1.5, depth_m=1.0, camera_heading_deg=180.0)

    assert near.exposure_value > far.exposure_value + 1.0
    assert near.low_stops >= 1.0
    assert 0.5 < falloff_stops(row, window, moment, light, Sky.OVERCAST) < 3.0


@pytest.mark.django_db
def test_a_north_window_is_lit_by_sky_alone_and_a_south_one_by_the_sun_too() -> None:
    place = make_place()
    light = Daylight(where_of(place), NOON, NOON + timedelta(hours=1))
    low = light.moment(datetime(2027, 12, 21, 12, tzinfo=UTC))
    north, south = make_window(place), make_window(place, facing_deg=180.0)

    levels = {
        window.facing_deg: room_level(sitting(window), window, low, light, Sky.CLEAR)
        for window in (north, south)
    }
    # The sun at 12 degrees through double glass is over 20 klx on the face: EV 13.
    assert levels[180.0].exposure_value > 12.5
    assert levels[0.0].exposure_value < 10.5
