import pytest
from django.test import Client as Browser

from planning.sites.forms import SkylineForm, typed
from planning.sites.models import Site
from planning.sites.skyline import Stretch, height_at, read_skyline, write_skyline
from tests.make import make_person, make_place, make_profile

HEADLAND = Stretch(from_deg=225, to_deg=262, height_deg=6.5, name="headland")
NORTH = Stretch(from_deg=350, to_deg=20, height_deg=3.0, name="barn")


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
    form = SkylineForm({"stretches": typed(skyline)})

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
        {"stretches": "225 262 6,5 headland", "measured": "on"},
        follow=True,
    )

    site = Site.objects.get(place=place)
    assert "headland" in page.content.decode()
    assert (site.estimated, read_skyline(site.skyline)) == (False, (HEADLAND,))
