"""The moon's place and phase against published examples and an ephemeris."""

from datetime import UTC, datetime, timedelta

import numpy as np
import pytest

from planning.light.moon import moon_position
from tests.planning.light.ephemeris import (
    FullEphemeris,
    days_of,
    instants,
    turn_between,
)


def test_distance_and_phase_match_the_published_example() -> None:
    # Meeus, Astronomical Algorithms, 2nd ed., examples 47.a and 48.a (published):
    # 1992 April 12.0 TD, distance 368409.7 km, phase angle 69.0756 degrees. TD is 59 s
    # ahead of UT then (IERS). 6378.14 km gives the parallax 0.991990.
    at = datetime(1992, 4, 12, tzinfo=UTC) - timedelta(seconds=59)

    moon = moon_position(latitude_deg=0.0, longitude_deg=0.0, at=at)

    assert moon.phase_angle_deg == pytest.approx(69.0756, abs=0.01)
    assert moon.horizontal_parallax_deg == pytest.approx(0.991990, abs=0.00002)


def test_random_moments_of_a_century_match_the_full_ephemeris(
    ephemeris: FullEphemeris,
) -> None:
    # skyfield with DE421, universal time in both.
    draw = np.random.default_rng(47)
    for _ in range(30):
        latitude, longitude = draw.uniform(-90, 90), draw.uniform(-180, 180)
        at = instants(draw.uniform(-7305.0, 29_585.0, 40))
        altitude, azimuth = ephemeris.altitude_azimuth(
            "moon", latitude, longitude, days_of(at)
        )

        moon = moon_position(latitude_deg=latitude, longitude_deg=longitude, at=at)

        across = turn_between(moon.azimuth_deg, azimuth) * np.cos(np.radians(altitude))
        # Promised to 0.002; held much closer, so that no constant can drift unseen.
        assert np.abs(moon.altitude_deg - altitude).max() < 0.0003
        assert np.abs(across).max() < 0.0003


def test_phase_and_parallax_match_the_full_ephemeris(ephemeris: FullEphemeris) -> None:
    at = instants(np.random.default_rng(48).uniform(-7305.0, 29_585.0, 400))

    moon = moon_position(latitude_deg=0.0, longitude_deg=0.0, at=at)

    phase = ephemeris.moon_phase_angle(days_of(at))
    parallax = ephemeris.moon_parallax(days_of(at))
    assert np.abs(moon.phase_angle_deg - phase).max() < 0.02
    assert np.abs(moon.horizontal_parallax_deg - parallax).max() < 0.0001


def test_one_moment_gives_floats_and_many_give_their_shape() -> None:
    at = datetime(2026, 6, 21, 22, tzinfo=UTC)
    many = np.array([["2026-06-21T22:00", "2026-06-21T23:00"]], dtype="datetime64[m]")

    one = moon_position(latitude_deg=52.0, longitude_deg=5.0, at=at)
    grid = moon_position(latitude_deg=52.0, longitude_deg=5.0, at=many)
    none = moon_position(latitude_deg=52.0, longitude_deg=5.0, at=many[:0])

    assert type(one.phase_angle_deg) is float
    assert grid.altitude_deg.shape == (1, 2)
    assert grid.altitude_deg[0, 0] == pytest.approx(one.altitude_deg, abs=1e-9)
    assert none.azimuth_deg.shape == (0, 2)


def test_a_place_off_the_earth_is_refused() -> None:
    with pytest.raises(ValueError, match="91"):
        moon_position(
            latitude_deg=91.0, longitude_deg=0.0, at=datetime(2026, 6, 21, tzinfo=UTC)
        )
