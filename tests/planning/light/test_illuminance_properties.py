"""What holds for every sky, plane and sun: shapes, refusals, no false steps."""

from typing import Any

import numpy as np
import numpy.typing as npt
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planning.light.illuminance import (
    Sky,
    direct_normal_lux,
    horizontal_lux,
    open_shade_lux,
    tolerance_stops,
    vertical_lux,
)
from planning.light.moments import FloatArray

SKIES = st.sampled_from(list(Sky))
DAYS = st.integers(1, 366)
AZIMUTHS = st.floats(-360.0, 360.0)
REFLECTANCES = st.floats(0.0, 1.0)
ALTITUDES = st.floats(-90.0, 90.0)
HUNDREDTHS_DEG = np.arange(-1_900, 9_001) / 100.0
LARGEST_STEP = 0.04


def largest_step(lux: FloatArray) -> float:
    return float(np.abs(np.diff(np.log2(lux))).max())


@settings(max_examples=60, deadline=None)
@given(sky=SKIES, day=DAYS, azimuth_deg=AZIMUTHS, reflectance=REFLECTANCES)
def test_no_light_steps_by_more_than_a_twenty_fifth_of_a_stop(
    sky: Sky, day: int, azimuth_deg: float, reflectance: float
) -> None:
    level = horizontal_lux(altitude_deg=HUNDREDTHS_DEG, sky=sky, day_of_year=day)
    upright = vertical_lux(
        altitude_deg=HUNDREDTHS_DEG,
        sky=sky,
        day_of_year=day,
        relative_azimuth_deg=azimuth_deg,
        ground_reflectance=reflectance,
    )
    shade = open_shade_lux(
        altitude_deg=HUNDREDTHS_DEG,
        sky=sky,
        day_of_year=day,
        relative_azimuth_deg=azimuth_deg,
    )

    assert largest_step(level) < LARGEST_STEP
    assert largest_step(upright) < LARGEST_STEP
    assert largest_step(shade) < LARGEST_STEP


@pytest.mark.parametrize("sky", list(Sky))
@pytest.mark.parametrize("azimuth_deg", [0.0, 60.0, 90.0, 120.0, 179.0, 180.0])
@pytest.mark.parametrize("reflectance", [0.0, 0.2, 1.0])
def test_no_plane_sees_a_step_whatever_way_it_faces(
    sky: Sky, azimuth_deg: float, reflectance: float
) -> None:
    upright = vertical_lux(
        altitude_deg=HUNDREDTHS_DEG,
        sky=sky,
        day_of_year=1,
        relative_azimuth_deg=azimuth_deg,
        ground_reflectance=reflectance,
    )

    assert largest_step(upright) < LARGEST_STEP


@settings(max_examples=60, deadline=None)
@given(
    sky=SKIES,
    day=DAYS,
    altitude_deg=st.floats(-18.0, 90.0),
    reflectance=REFLECTANCES,
)
def test_turning_a_plane_gives_no_step(
    sky: Sky, day: int, altitude_deg: float, reflectance: float
) -> None:
    turns = np.arange(0.0, 180.01, 0.1)
    upright = vertical_lux(
        altitude_deg=np.full_like(turns, altitude_deg),
        sky=sky,
        day_of_year=day,
        relative_azimuth_deg=turns,
        ground_reflectance=reflectance + 0.05 * (1.0 - reflectance),
    )

    assert largest_step(upright) < LARGEST_STEP


@settings(max_examples=40, deadline=None)
@given(sky=SKIES, day=DAYS)
def test_a_higher_sun_gives_level_ground_more_light(sky: Sky, day: int) -> None:
    level = horizontal_lux(altitude_deg=HUNDREDTHS_DEG, sky=sky, day_of_year=day)
    beam = direct_normal_lux(altitude_deg=HUNDREDTHS_DEG, sky=sky, day_of_year=day)

    # The polynomial's two parts meet at -12 degrees with a dip of 0.005 stop.
    assert np.diff(np.log2(level)).min() > -0.005
    # The air mass is least a hair's breadth from the zenith.
    assert np.diff(beam).min() > -0.01


@settings(max_examples=200, deadline=None)
@given(
    sky=SKIES,
    day=DAYS,
    altitude_deg=ALTITUDES,
    azimuth_deg=AZIMUTHS,
    reflectance=REFLECTANCES,
)
def test_left_and_right_of_the_sun_are_alike(
    sky: Sky, day: int, altitude_deg: float, azimuth_deg: float, reflectance: float
) -> None:
    def upright(turn_deg: float) -> float:
        return vertical_lux(
            altitude_deg=altitude_deg,
            sky=sky,
            day_of_year=day,
            relative_azimuth_deg=turn_deg,
            ground_reflectance=reflectance,
        )

    assert upright(azimuth_deg) == pytest.approx(upright(-azimuth_deg))
    assert upright(azimuth_deg) == pytest.approx(upright(azimuth_deg + 360.0))
    assert upright(0.0) >= upright(azimuth_deg) * (1.0 - 1e-9)
    assert upright(180.0) <= upright(azimuth_deg) * (1.0 + 1e-9)


@settings(max_examples=200, deadline=None)
@given(sky=SKIES, day=DAYS, altitude_deg=ALTITUDES, azimuth_deg=AZIMUTHS)
def test_light_ground_adds_half_its_reflectance(
    sky: Sky, day: int, altitude_deg: float, azimuth_deg: float
) -> None:
    black, white = (
        vertical_lux(
            altitude_deg=altitude_deg,
            sky=sky,
            day_of_year=day,
            relative_azimuth_deg=azimuth_deg,
            ground_reflectance=reflectance,
        )
        for reflectance in (0.0, 1.0)
    )
    level = horizontal_lux(altitude_deg=altitude_deg, sky=sky, day_of_year=day)

    assert white - black == pytest.approx(0.5 * level)
    assert black > 0.0


@settings(max_examples=200, deadline=None)
@given(sky=SKIES, day=DAYS, altitude_deg=ALTITUDES)
def test_the_beam_is_part_of_the_light_on_level_ground(
    sky: Sky, day: int, altitude_deg: float
) -> None:
    beam = direct_normal_lux(altitude_deg=altitude_deg, sky=sky, day_of_year=day)
    level = horizontal_lux(altitude_deg=altitude_deg, sky=sky, day_of_year=day)

    assert beam >= 0.0
    assert beam * np.sin(np.radians(altitude_deg)) < level


def test_floats_give_a_float_and_arrays_their_shape() -> None:
    grid = np.array([[-5.0, 3.0, 40.0]])
    days = np.array([[10], [200]])
    kind: dict[str, Any] = {"sky": Sky.CLEAR}

    one = horizontal_lux(altitude_deg=40, sky=Sky.CLEAR, day_of_year=200)
    many = horizontal_lux(altitude_deg=grid, day_of_year=days, **kind)
    turned = vertical_lux(
        altitude_deg=grid,
        day_of_year=200,
        relative_azimuth_deg=np.array([[0.0], [90.0]]),
        ground_reflectance=0.2,
        **kind,
    )
    none = open_shade_lux(
        altitude_deg=grid[:, :0], day_of_year=1, relative_azimuth_deg=0.0, **kind
    )

    assert type(one) is float
    assert many.shape == (2, 3)
    assert many[1, 2] == pytest.approx(one)
    assert turned.shape == (2, 3)
    assert none.shape == (1, 0)


def test_a_long_array_reads_as_its_parts() -> None:
    draw = np.random.default_rng(7)
    altitudes, days = draw.uniform(-30, 90, 20_000), draw.integers(1, 366, 20_000)
    azimuths = draw.uniform(0, 360, 20_000)

    def upright(which: slice | npt.NDArray[np.int64]) -> FloatArray:
        return vertical_lux(
            altitude_deg=altitudes[which],
            sky=Sky.PARTLY_CLOUDY,
            day_of_year=days[which],
            relative_azimuth_deg=azimuths[which],
            ground_reflectance=0.2,
        )

    few = draw.integers(0, 20_000, 100)
    assert upright(slice(None))[few] == pytest.approx(upright(few))


@pytest.mark.parametrize(
    ("changed", "named"),
    [
        ({"altitude_deg": 90.5}, "90.5"),
        ({"altitude_deg": float("nan")}, "nan"),
        ({"altitude_deg": np.array([1.0, -91.0])}, r"-91\.0"),
        ({"day_of_year": 0}, "day of the year 0"),
        ({"day_of_year": 367}, "367"),
        ({"ground_reflectance": 1.1}, r"1\.1"),
        ({"ground_reflectance": -0.1}, r"-0\.1"),
        ({"relative_azimuth_deg": float("inf")}, "inf"),
        ({"sky": "foggy"}, "foggy"),
    ],
)
def test_what_cannot_be_is_refused(changed: dict[str, Any], named: str) -> None:
    given_values: dict[str, Any] = {
        "altitude_deg": 10.0,
        "sky": Sky.CLEAR,
        "day_of_year": 100,
        "relative_azimuth_deg": 0.0,
        "ground_reflectance": 0.2,
    }

    with pytest.raises(ValueError, match=named):
        vertical_lux(**(given_values | changed))


def test_tolerances_are_those_of_the_models_spread() -> None:
    wanted = {
        60.0: 1 / 3,
        10.0: 1 / 3,
        9.9: 0.5,
        5.0: 0.5,
        4.9: 1.0,
        -0.8: 1.0,
        -3.0: 0.5,
        -9.0: 1.0,
        -40.0: 1.0,
    }

    for altitude_deg, stops in wanted.items():
        found = tolerance_stops(altitude_deg=altitude_deg, sky=Sky.CLEAR)
        assert found == pytest.approx((stops, stops))


@settings(max_examples=100, deadline=None)
@given(sky=SKIES, altitude_deg=ALTITUDES)
def test_cloud_is_never_surer_than_a_clear_sky(sky: Sky, altitude_deg: float) -> None:
    clear = tolerance_stops(altitude_deg=altitude_deg, sky=Sky.CLEAR)
    found = tolerance_stops(altitude_deg=altitude_deg, sky=sky)

    assert found[0] >= clear[0] > 0.0
    assert found[1] >= clear[1] > 0.0


def test_tolerances_of_many_altitudes_have_their_shape() -> None:
    low, high = tolerance_stops(altitude_deg=np.zeros((2, 3)), sky=Sky.OVERCAST)

    assert low.shape == high.shape == (2, 3)
