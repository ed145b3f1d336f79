"""Scales of weather against what is published of them."""

import pytest

from planning.shoots.choices import SkyWord
from planning.weather.scales import MS_IN, beaufort, sky_of, uv_words, wind_words


@pytest.mark.parametrize("force", range(13))
def test_a_force_holds_the_speed_of_the_empirical_formula(force: int) -> None:
    # v = 0.836 B^(3/2) m/s is the formula behind the WMO's table (from memory); each
    # force reaches about half a step either way.
    assert beaufort(0.836 * force**1.5) == force
    assert beaufort(0.836 * (force + 0.4) ** 1.5) == force
    assert beaufort(0.836 * max(force - 0.4, 0.0) ** 1.5) == force


def test_wind_in_words_and_units() -> None:
    # Handbook units: 1 knot is 1.852 km/h, 1 mile is 1.609344 km, both exact.
    assert wind_words(21 * MS_IN["knots"]) == "force 6, strong breeze"
    assert MS_IN["mph"] * 3.6 == pytest.approx(1.609344)
    assert MS_IN["knots"] * 3.6 == pytest.approx(1.852)


def test_uv_categories() -> None:
    # WHO, Global Solar UV Index (2002), from memory: low < 2, moderate 3-5, high 6-7,
    # very high 8-10, extreme 11+.
    said = [uv_words(index) for index in (0, 2, 3, 5, 6, 7, 8, 10, 11, 14)]

    assert said == [
        *("low", "low", "moderate", "moderate", "high", "high"),
        *("very high", "very high", "extreme", "extreme"),
    ]


def test_cloud_names_the_sky_to_plan_for() -> None:
    # ICAO Annex 3, from memory: FEW 1-2, SCT 3-4, BKN 5-7, OVC 8 oktas.
    skies = [sky_of(oktas) for oktas in range(9)]

    assert skies == [
        *[SkyWord.CLEAR] * 3,
        *[SkyWord.BROKEN] * 5,
        SkyWord.OVERCAST,
    ]
