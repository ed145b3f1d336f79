"""A skyline typed point by point: rows, what stands there, leaves, how sure."""

from datetime import date
from typing import Any

import pytest
from django.test import Client as Browser

from jobs.places.models import Place
from planning.sites.models import Site
from planning.sites.points import PointKind, SkyPoint, read_profile, write_profile
from planning.sites.skyline import Horizon, Ridge
from tests.make import make_person, make_place, make_profile
from tests.planning.sites.test_skyline import typed_points

HILL = {"azimuth": "90", "height": "2", "what": "hill"}
OAKS = {"azimuth": "120", "height": "6", "what": "tree", "leaf": "25 April to 10 Nov"}
JUNE, JANUARY = date(2027, 6, 1), date(2027, 1, 10)


@pytest.fixture
def place(client: Browser) -> Place:
    make_profile()
    client.force_login(make_person("Bram Okoro", hats="planner"))
    return make_place()


def a_point(azimuth: float, height: float, **fields: Any) -> SkyPoint:
    return SkyPoint(azimuth_deg=azimuth, height_deg=height, **fields)


def send(client: Browser, place: Place, *rows: dict[str, str], **more: str) -> str:
    sent = typed_points(*rows) | {"ground": "grass"} | more
    answer = client.post(f"/places/{place.pk}/skyline/", sent, follow=True)
    return answer.content.decode()


def kept(place: Place) -> tuple[SkyPoint, ...]:
    return read_profile(Site.objects.get(place=place).profile)


@pytest.mark.django_db
def test_rows_are_kept_by_azimuth_and_come_back(client: Browser, place: Place) -> None:
    send(client, place, OAKS | {"measured": "on"}, HILL, {})

    oaks = a_point(
        120, 6, what="tree", measured=True, leaf_from="04-25", leaf_to="11-10"
    )
    assert kept(place) == (a_point(90, 2, what="hill"), oaks)
    page = client.get(f"/places/{place.pk}/skyline/").content.decode()
    assert 'value="25 Apr to 10 Nov"' in page


@pytest.mark.django_db
def test_adding_a_row_keeps_what_is_typed_and_saves_nothing(
    client: Browser, place: Place
) -> None:
    page = send(client, place, HILL, add_line="1", stretches="10 20 3 shed")

    assert 'name="points-1-azimuth"' in page
    assert 'name="points-0-height" value="2"' in page
    assert "10 20 3 shed" in page
    assert not Site.objects.exists()


@pytest.mark.django_db
def test_a_ticked_row_is_taken_out(client: Browser, place: Place) -> None:
    send(client, place, HILL, OAKS | {"DELETE": "on"})

    assert [one.azimuth_deg for one in kept(place)] == [90.0]


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("row", "said"),
    [
        ({"azimuth": "90"}, "A point needs both figures."),
        ({"azimuth": "400", "height": "2"}, "less than or equal to 360"),
        (OAKS | {"leaf": "spring"}, "Write it like 25 Apr to 10 Nov."),
        (OAKS | {"leaf": "31 Feb to 1 Nov"}, "Write it like 25 Apr to 10 Nov."),
        (OAKS | {"what": "house"}, "Only trees have leaves"),
    ],
)
def test_a_row_that_is_not_understood_is_told_and_not_lost(
    client: Browser, place: Place, row: dict[str, str], said: str
) -> None:
    page = send(client, place, HILL, row)

    assert said in page
    assert f'value="{row["azimuth"]}"' in page
    assert not Site.objects.exists()


def test_a_point_survives_its_json_and_older_points_have_two_figures() -> None:
    oaks = a_point(
        120, 6, what="tree", measured=True, leaf_from="04-25", leaf_to="11-10"
    )

    assert read_profile(write_profile([oaks])) == (oaks,)
    assert read_profile([[90.0, 2.0]]) == (a_point(90.0, 2.0),)


def test_the_line_says_what_the_sun_goes_behind_and_how_sure_that_is() -> None:
    # By hand: half-way between 2 and 6 degrees is 4; judged by eye a degree off.
    house, hill = PointKind.HOUSE, PointKind.HILL
    guessed = (a_point(90, 2, what=hill), a_point(120, 6, what=house, measured=True))
    measured = (a_point(90, 2, what=hill, measured=True), guessed[1])

    ridges = [Horizon(profile=line).at(105.0) for line in (guessed, measured)]

    assert ridges == [
        Ridge(height_deg=4.0, name="the house", error_deg=1.0),
        Ridge(height_deg=4.0, name="the house", error_deg=0.0),
    ]


def test_bare_trees_leave_the_line_between_the_other_points() -> None:
    # By hand: without the trees at 105 the line runs from 2 at 90 to 6 at 120.
    trees = a_point(105, 20, what="tree", leaf_from="04-25", leaf_to="11-10")
    line = (a_point(90, 2), trees, a_point(120, 6))
    leafy, bare = (Horizon(profile=line, on=day) for day in (JUNE, JANUARY))

    assert (leafy.height_at(105.0), leafy.bare_at(105.0)) == (20.0, None)
    thinned = bare.bare_at(105.0)
    assert bare.height_at(105.0) == 4.0
    assert thinned is not None
    assert thinned.height_deg == 20.0
