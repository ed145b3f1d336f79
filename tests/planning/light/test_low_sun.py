"""Low sun, twilight and night against almanacs, and the joints between them."""

from datetime import UTC, datetime
from math import log2

import pytest

from planning.light.illuminance import (
    Sky,
    direct_normal_lux,
    horizontal_lux,
    open_shade_lux,
    vertical_lux,
)
from planning.light.sun import sun_position


@pytest.mark.parametrize(
    ("altitude_deg", "lux"),
    [
        (5.0, 4_538.0),
        (0.0, 759.0),
        (-0.8333, 453.0),
        (-3.0, 79.1),
        (-6.0, 3.40),
        (-12.0, 0.00806),
        (-18.0, 0.00064),
    ],
)
def test_low_sun_and_twilight_are_the_explanatory_supplement(
    altitude_deg: float, lux: float
) -> None:
    # Seidelmann (ed.) 1992, Explanatory Supplement, p. 491: recomputed from its
    # polynomial.
    found = horizontal_lux(altitude_deg=altitude_deg, sky=Sky.CLEAR, day_of_year=91)

    assert found == pytest.approx(lux, rel=0.008)


@pytest.mark.parametrize(
    ("altitude_deg", "lux"),
    [
        (-17.0, 0.00100310),
        (-14.0, 0.00291647),
        (-11.0, 0.0170821),
        (-7.0, 1.08610),
        (-4.5, 17.8451),
        (-2.0, 189.361),
        (1.0, 1267.995),
        (4.5, 4010.398),
    ],
)
def test_each_part_of_the_polynomial_is_as_printed(
    altitude_deg: float, lux: float
) -> None:
    # The same page, worked out from its printed coefficients with decimal logarithms;
    # two points in each part, so that a wrong digit of any of them shows.
    found = horizontal_lux(altitude_deg=altitude_deg, sky=Sky.CLEAR, day_of_year=91)

    assert found == pytest.approx(lux, rel=2e-5)


@pytest.mark.parametrize(
    ("altitude_deg", "low", "high"),
    [
        (-0.8333, 410.0, 585.0),
        (-6.0, 2.0, 3.5),
        (-12.0, 0.006, 0.010),
        (-18.0, 0.0005, 0.0007),
    ],
)
def test_the_ends_of_the_twilights_match_the_glossary_of_meteorology(
    altitude_deg: float, low: float, high: float
) -> None:
    # American Meteorological Society, Glossary of Meteorology, "twilight": civil from
    # 585-410 to 3.5-2 lx, nautical to 0.008, astronomical to 6e-4 (published).
    found = horizontal_lux(altitude_deg=altitude_deg, sky=Sky.CLEAR, day_of_year=80)

    assert low <= found <= high


@pytest.mark.parametrize(
    ("latitude_deg", "longitude_deg", "at", "lux", "tolerance"),
    [
        (-23.4, -135.8, datetime(1986, 12, 18, 21, 0, tzinfo=UTC), 123_786.0, 0.1),
        (21.3, 39.5, datetime(1988, 8, 13, 15, 53, tzinfo=UTC), 697.0, 0.6),
    ],
)
def test_the_certified_values_of_circular_171(
    latitude_deg: float,
    longitude_deg: float,
    at: datetime,
    lux: float,
    tolerance: float,
) -> None:
    # Janiczek & DeYoung 1987, USNO Circular 171, table A (published). Another model:
    # the tolerance, in stops, is what the two differ by at noon and at sunset, where
    # that one has a step of 0.6 stop.
    sun = sun_position(latitude_deg=latitude_deg, longitude_deg=longitude_deg, at=at)

    found = horizontal_lux(
        altitude_deg=sun.altitude_deg,
        sky=Sky.CLEAR,
        day_of_year=at.timetuple().tm_yday,
    )

    assert abs(log2(found / lux)) < tolerance


def test_between_five_and_ten_degrees_it_is_straight_in_stops() -> None:
    levels = [
        log2(horizontal_lux(altitude_deg=deg, sky=Sky.CLEAR, day_of_year=30))
        for deg in (5.0, 6.25, 7.5, 10.0)
    ]

    assert levels[1] == pytest.approx(0.75 * levels[0] + 0.25 * levels[3])
    assert levels[2] == pytest.approx(0.5 * levels[0] + 0.5 * levels[3])


@pytest.mark.parametrize("sky", list(Sky))
def test_below_ten_degrees_a_sky_keeps_its_ratio_to_a_clear_one(sky: Sky) -> None:
    def ratio(altitude_deg: float) -> float:
        clouded, clear = (
            horizontal_lux(altitude_deg=altitude_deg, sky=one, day_of_year=300)
            for one in (sky, Sky.CLEAR)
        )
        return clouded / clear

    for altitude_deg in (9.0, 5.0, 0.0, -4.0, -9.0):
        assert ratio(altitude_deg) == pytest.approx(ratio(10.0))


@pytest.mark.parametrize("sky", list(Sky))
def test_in_twilight_a_plane_gets_half_and_the_grounds_share(sky: Sky) -> None:
    for altitude_deg in (-0.8333, -3.0, -8.0, -15.0):
        level = horizontal_lux(altitude_deg=altitude_deg, sky=sky, day_of_year=120)
        for azimuth_deg in (0.0, 90.0, 180.0):
            upright = vertical_lux(
                altitude_deg=altitude_deg,
                sky=sky,
                day_of_year=120,
                relative_azimuth_deg=azimuth_deg,
                ground_reflectance=0.3,
            )
            shade = open_shade_lux(
                altitude_deg=altitude_deg,
                sky=sky,
                day_of_year=120,
                relative_azimuth_deg=azimuth_deg,
            )
            assert upright == pytest.approx((0.5 + 0.15) * level)
            assert shade == pytest.approx(0.5 * level)


def test_the_night_has_a_floor() -> None:
    for sky in Sky:
        for altitude_deg in (-90.0, -30.0, -20.0):
            level = horizontal_lux(altitude_deg=altitude_deg, sky=sky, day_of_year=1)
            assert level == pytest.approx(0.0005)


def test_the_beam_is_gone_when_the_sun_is_down() -> None:
    for sky in Sky:
        for altitude_deg in (-0.8333, -1.0, -50.0):
            beam = direct_normal_lux(altitude_deg=altitude_deg, sky=sky, day_of_year=1)
            assert beam == 0.0
    for sky in (Sky.OVERCAST, Sky.HEAVY_OVERCAST):
        assert direct_normal_lux(altitude_deg=60.0, sky=sky, day_of_year=1) == 0.0
