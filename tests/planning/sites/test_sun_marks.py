"""Points of skyline that somebody saw: the sun's own place at that minute."""

from datetime import UTC, datetime, timedelta
from types import SimpleNamespace

import numpy as np
import pytest
from django.test import Client as Browser

from planning.shoots.daylight import Daylight
from planning.shoots.queries import where_of
from planning.sites.models import Site, SunMark
from planning.sites.operations import SunIsDownError, drop_sun_mark, mark_sun_gone
from planning.sites.points import SkyPoint
from planning.sites.skyline import Horizon, Stretch
from tests.make import make_person, make_place, make_profile
from tests.planning.light.ephemeris import full_ephemeris

SEEN = datetime(2027, 10, 14, 15, 40, 20, tzinfo=UTC)
DUNES = {"from_deg": 215, "to_deg": 340, "height_deg": 3.0, "name": "dunes"}


@pytest.mark.django_db
def test_a_mark_keeps_where_the_sun_stood() -> None:
    # skyfield with DE421 says where the sun stood.
    place = make_place()
    mark = mark_sun_gone(place=place, at=SEEN, by=make_person("Bram Okoro"))

    with full_ephemeris() as sky:
        altitude, azimuth = sky.altitude_azimuth(
            "sun",
            place.latitude_deg,
            place.longitude_deg,
            np.array([SEEN.timestamp() / 86_400.0]),
        )
    assert mark.altitude_deg == pytest.approx(float(altitude[0]), abs=0.005)
    assert mark.azimuth_deg == pytest.approx(float(azimuth[0]), abs=0.005)


@pytest.mark.django_db
def test_the_sun_goes_at_the_minute_that_was_seen_not_the_one_judged() -> None:
    place = make_place()
    Site.objects.create(place=place, skyline=[DUNES])
    low = SEEN + timedelta(minutes=44)
    mark_sun_gone(place=place, at=low, by=make_person("Bram Okoro"))

    lost = Daylight(where_of(place), SEEN - timedelta(hours=2), SEEN).lost

    assert lost is not None
    assert abs(lost.earliest_at - low) <= timedelta(minutes=1)
    assert not lost.estimated
    assert lost.behind == "dunes"


@pytest.mark.django_db
def test_no_mark_is_made_of_a_sun_that_is_down() -> None:
    with pytest.raises(SunIsDownError, match="below the horizon at 22:00"):
        mark_sun_gone(
            place=make_place(),
            at=datetime(2027, 10, 14, 21, tzinfo=UTC),
            by=make_person("Bram Okoro"),
        )


@pytest.mark.django_db
def test_a_second_press_moves_the_mark_and_a_wrong_one_is_taken_back() -> None:
    place, bram = make_place(), make_person("Bram Okoro")
    mark_sun_gone(place=place, at=SEEN, by=bram)
    again = mark_sun_gone(place=place, at=SEEN + timedelta(seconds=20), by=bram)

    assert SunMark.objects.get() == again
    drop_sun_mark(mark_id=again.pk, by=bram, at=SEEN)
    assert Site.objects.get(place=place).seen == []


def test_a_mark_outranks_judged_heights_within_three_degrees() -> None:
    horizon = Horizon(
        stretches=(Stretch(from_deg=200, to_deg=300, height_deg=8.0, name="hill"),),
        marks=(SkyPoint(azimuth_deg=240.0, height_deg=6.2, seen=True),),
    )

    ridges = [horizon.at(azimuth) for azimuth in (236.9, 237.1, 242.9, 243.1)]
    assert [one.error_deg for one in ridges if one] == [1.0, 0.0, 0.0, 1.0]
    assert {one.height_deg for one in ridges if one} == {6.2}
    assert horizon.at(301.0) is None


@pytest.mark.django_db
def test_the_button_keeps_a_mark_or_says_why_not(
    client: Browser, monkeypatch: pytest.MonkeyPatch
) -> None:
    make_profile()
    client.force_login(make_person("Bram Okoro", hats="planner"))
    place = make_place()
    address = f"/places/{place.pk}/sun-gone/"

    clock = SimpleNamespace(now=lambda: SEEN)
    monkeypatch.setattr("planning.sites.views.timezone", clock)
    kept = client.post(address, {"next": "/day/"})
    away = client.post(address, {"next": "https://elsewhere.example/"})
    mark = SunMark.objects.get()
    client.post(f"/sun-marks/{mark.pk}/drop/")

    assert kept["Location"] == "/day/"
    assert away["Location"] == place.get_absolute_url()
    assert not SunMark.objects.exists()
