import pytest
from django.core.exceptions import ValidationError
from hypothesis import given
from hypothesis import strategies as st

from studio.forms import CoordinatesField
from studio.forms.places import PositionError, position_text, read_position


@pytest.mark.parametrize(
    "text",
    [
        "54.47, -0.62",
        "54.47 -0.62",
        "54.47;-0.62",
        "54,47; -0,62",
        "54.47°, −0.62°",
        "54.47N 0.62W",
        "N54.47 W0.62",
        "54°28'12\"N 0°37'12\"W",
        "54° 28′ 12″ N, 0° 37′ 12″ W",
        "0°37'12\"W 54°28'12\"N",
        "N54°28.2' W0°37.2'",
        "54 28 12 N, 0 37 12 W",
        "geo:54.47,-0.62",
        "https://map.example/@54.47,-0.62,15z",
        "https://map.example/?q=54.47%2C-0.62",
        "https://map.example/#map=15/54.47/-0.62",
        "https://map.example/?mlat=54.47&mlon=-0.62#map=14/54.4/-0.6",
    ],
)
def test_a_place_is_understood_in_the_ways_it_is_copied(text: str) -> None:
    # 28 minutes 12 seconds are 28/60 + 12/3600 = 0.47 degrees; 37' 12" are 0.62.
    assert read_position(text) == pytest.approx((54.47, -0.62), abs=1e-6)


@pytest.mark.parametrize(
    ("uri", "position"),
    [
        ("geo:13.4125,103.8667", (13.4125, 103.8667)),
        ("geo:48.2010,16.3695,183", (48.2010, 16.3695)),
        ("geo:48.198634,16.371648;crs=wgs84;u=40", (48.198634, 16.371648)),
    ],
)
def test_the_examples_of_the_geo_standard_are_read(
    uri: str, position: tuple[float, float]
) -> None:
    # RFC 5870, sections 1 and 6.1.
    assert read_position(uri) == position


@pytest.mark.parametrize(
    "text",
    [
        "",
        "Saltmere",
        "54.47",
        "54°61'N 0°10'W",
        "54N 55N",
        "nan, inf",
        "1,2,3",
        "1e3 2",
    ],
)
def test_what_is_no_place_is_refused(text: str) -> None:
    with pytest.raises(PositionError):
        read_position(text)


def test_swapped_numbers_are_noticed_where_they_can_be() -> None:
    with pytest.raises(PositionError, match="swapped"):
        read_position("139.69, 35.68")
    with pytest.raises(PositionError, match="180"):
        read_position("35.68, 200")


@given(st.floats(min_value=-90, max_value=90), st.floats(min_value=-180, max_value=180))
def test_a_place_is_read_back_from_how_the_box_shows_it(
    latitude_deg: float, longitude_deg: float
) -> None:
    shown = position_text((latitude_deg, longitude_deg))

    assert read_position(shown) == pytest.approx(
        (latitude_deg, longitude_deg), abs=1e-6
    )


def test_the_field_gives_a_pair_or_nothing() -> None:
    assert CoordinatesField().clean("54.47, -0.62") == (54.47, -0.62)
    assert CoordinatesField(required=False).clean("") is None
    with pytest.raises(ValidationError, match="latitude and longitude"):
        CoordinatesField().clean("the harbour")


def test_the_box_shows_a_pair_that_can_be_pasted_again() -> None:
    assert CoordinatesField().prepare_value((54.47, -0.62)) == "54.47, -0.62"
