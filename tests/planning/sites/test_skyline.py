from datetime import date

import pytest
from django.test import Client as Browser

from planning.sites.forms import SkylineForm, typed
from planning.sites.models import Site
from planning.sites.points import read_profile
from planning.sites.skyline import (
    Horizon,
    Stretch,
    height_at,
    read_skyline,
    write_skyline,
)
from tests.make import make_person, make_place, make_profile

HEADLAND = Stretch(from_deg=225, to_deg=262, height_deg=6.5, name="headland")
NORTH = Stretch(from_deg=350, to_deg=20, height_deg=3.0, name="barn")


def typed_points(*rows: dict[str, str]) -> dict[str, str]:
    """Return the rows of a line of points, as a browser sends them."""
    sent = {"points-TOTAL_FORMS": str(len(rows)), "points-INITIAL_FORMS": "0"}
    for number, row in enumerate(rows):
        sent |= {f"points-{number}-{name}": value for name, value in row.items()}
    return sent


@pytest.mark.parametrize(
    ("azimuth", "height"),
    [(225, 6.5), (240, 6.5), (262, 6.5), (263, 0.0), (355, 3.0), (10, 3.0), (180, 0.0)],
)
def test_a_stretch_stands_from_one_azimuth_clockwise_to_another(
    azimuth: float, height: float
) -> None:
    assert height_at((HEADLAND, NORTH), azimuth) == height


def test_the_higher_of_two_hides_the_sun() -> None:
    tower = Stretch(from_deg=240, to_deg=242, height_deg=20.0)

    assert height_at((HEADLAND, tower), 241.0) == 20.0


def test_a_skyline_survives_being_written_and_typed() -> None:
    skyline = (HEADLAND, NORTH)
    form = SkylineForm({"stretches": typed(skyline), "ground": "grass"})

    assert read_skyline(write_skyline(skyline)) == skyline
    assert form.is_valid()
    assert form.cleaned_data["stretches"] == skyline


@pytest.mark.parametrize(
    "line", ["225 262", "225 262 95 cliff", "a b c", "400 20 3", "225 262 nan hill"]
)
def test_a_line_that_is_no_stretch_is_refused_by_its_number(line: str) -> None:
    form = SkylineForm({"stretches": f"10 20 3 shed\n{line}"})

    assert not form.is_valid()
    assert "Line 2" in form.errors["stretches"][0]


@pytest.mark.django_db
def test_the_skyline_is_kept_on_its_page(client: Browser) -> None:
    make_profile()
    client.force_login(make_person("Bram Okoro", hats="planner"))
    place = make_place()

    page = client.post(
        f"/places/{place.pk}/skyline/",
        {
            "stretches": "225 262 6,5 headland",
            "measured": "on",
            "ground": "grass",
            **typed_points(),
        },
        follow=True,
    )

    site = Site.objects.get(place=place)
    assert "headland" in page.content.decode()
    assert (site.estimated, read_skyline(site.skyline)) == (False, (HEADLAND,))


def test_trees_ground_and_compass_are_typed_and_come_back() -> None:
    oaks = Stretch(
        from_deg=200,
        to_deg=230,
        height_deg=22.0,
        name="oaks",
        leaf_from="04-25",
        leaf_to="11-10",
    )
    form = SkylineForm(
        {
            "stretches": "200 230 22 oaks, leaf 25 April to 10 Nov",
            "ground": "snow",
            "declination": "1.2 W",
        }
    )

    assert form.is_valid(), form.errors
    details = form.details(())
    assert details.skyline == (oaks,)
    assert typed(details.skyline) == "200 230 22 oaks, leaf 25 Apr to 10 Nov"
    assert (details.ground_reflectance, details.declination_deg) == (0.8, -1.2)


@pytest.mark.parametrize(
    ("field", "text", "says"),
    [
        ("declination", "12", "E or W"),
        ("stretches", "200 230 22 oaks, leaf 31 Feb to 1 Nov", "Line 1"),
    ],
)
def test_what_is_not_understood_is_said_beside_its_field(
    field: str, text: str, says: str
) -> None:
    form = SkylineForm({"ground": "grass", field: text})

    assert says in form.errors[field][0]


def test_a_line_rises_evenly_between_its_points() -> None:
    # Halfway between 2 degrees at 90 and 6 degrees at 120 it is 4; beyond, nothing.
    line = read_profile([[120.0, 6.0], [90.0, 2.0]])

    heights = [Horizon(profile=line).height_at(azimuth) for azimuth in (105, 120, 125)]
    assert heights == [4.0, 6.0, 0.0]


def test_trees_hide_the_sun_only_in_leaf() -> None:
    oaks = Stretch(
        from_deg=200,
        to_deg=230,
        height_deg=22.0,
        leaf_from="04-25",
        leaf_to="11-10",
    )
    june, january = date(2027, 6, 1), date(2027, 1, 10)

    assert Horizon(stretches=(oaks,), on=june).height_at(210.0) == 22.0
    assert Horizon(stretches=(oaks,), on=january).height_at(210.0) == 0.0
    assert Horizon(stretches=(oaks,), on=january).bare_at(210.0) == oaks
