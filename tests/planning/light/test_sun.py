"""The sun's place against published examples, an ephemeris and pvlib's SPA."""

from datetime import UTC, datetime, timedelta, timezone

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pvlib import spa

from planning.light.air import SUNSET_ALTITUDE_DEG
from planning.light.moments import FloatArray, Instants
from planning.light.nodes import sun_track
from planning.light.sun import SunPosition, sun_position
from tests.planning.light.ephemeris import (
    FullEphemeris,
    days_of,
    instants,
    turn_between,
)

DAY_1950, DAY_2051 = -7305.0, 29_585.0
LATITUDES = st.floats(-90.0, 90.0)
LONGITUDES = st.floats(-180.0, 180.0)
MOMENTS = st.floats(DAY_1950, DAY_2051).map(
    lambda days: datetime(1970, 1, 1, tzinfo=UTC) + timedelta(days=days)
)


def year_of(step_minutes: int) -> Instants:
    step = np.timedelta64(step_minutes, "m")
    year = np.arange(np.datetime64("2026-01-01"), np.datetime64("2027-01-01"), step)
    return year.astype("datetime64[us]")


def spa_rows(latitude_deg: float, longitude_deg: float, at: Instants) -> FloatArray:
    """Return pvlib's SPA for 1010 hPa and 10 degrees, delta T of the year 2026."""
    seconds = at.astype("datetime64[us]").astype(np.int64) / 1e6
    rows: FloatArray = spa.solar_position(
        seconds, latitude_deg, longitude_deg, 0.0, 1010.0, 10.0, 69.1, 0.5667
    )
    return rows


def test_the_published_example_of_the_solar_position_algorithm() -> None:
    # Reda & Andreas 2004, Solar Energy 76(5) 577-589, worked example (published):
    # topocentric elevation without refraction 39.872046, azimuth 194.340241. Its place
    # is 1830 m up, which moves the sun by 0.000001 degrees.
    at = datetime(2003, 10, 17, 12, 30, 30, tzinfo=timezone(timedelta(hours=-7)))

    sun = sun_position(latitude_deg=39.742476, longitude_deg=-105.1786, at=at)

    assert sun.altitude_deg == pytest.approx(39.872046, abs=0.0005)
    assert sun.azimuth_deg == pytest.approx(194.340241, abs=0.0005)


def test_the_published_declination_of_an_autumn_day() -> None:
    # Meeus, Astronomical Algorithms, 2nd ed., example 25.b, p. 169 (published, by the
    # full theory): 1992 October 13.0 TD, apparent declination -7 deg 47' 01.74".
    # TD is 59 s ahead of UT then (IERS).
    day = days_of(np.array([np.datetime64("1992-10-13T00:00:00")])) - 59.0 / 86_400.0
    declination = np.degrees(np.arcsin(sun_track(day).place(day)[2]))

    assert declination[0] == pytest.approx(-(7 + 47 / 60 + 1.74 / 3600), abs=0.0003)


def test_random_moments_of_a_century_match_the_full_ephemeris(
    ephemeris: FullEphemeris,
) -> None:
    # skyfield with DE421, universal time in both.
    draw = np.random.default_rng(1950)
    for _ in range(40):
        latitude, longitude = draw.uniform(-90, 90), draw.uniform(-180, 180)
        at = instants(draw.uniform(DAY_1950, DAY_2051, 60))
        altitude, azimuth = ephemeris.altitude_azimuth(
            "sun", latitude, longitude, days_of(at)
        )

        sun = sun_position(latitude_deg=latitude, longitude_deg=longitude, at=at)

        across = turn_between(sun.azimuth_deg, azimuth) * np.cos(np.radians(altitude))
        assert np.abs(sun.altitude_deg - altitude).max() < 0.0005
        assert np.abs(across).max() < 0.0005


@pytest.mark.parametrize(
    ("latitude_deg", "longitude_deg"),
    [
        (90.0, 0.0),
        (-90.0, 0.0),
        (90.0, 120.0),
        (89.99, -45.0),
        (0.0, 180.0),
        (0.0, -180.0),
        (23.44, 0.0),
        (-66.56, 33.0),
        (66.56, 25.0),
    ],
)
def test_poles_date_line_tropics_and_circles_match_the_full_ephemeris(
    ephemeris: FullEphemeris, latitude_deg: float, longitude_deg: float
) -> None:
    at = year_of(7 * 24 * 60 - 95)
    altitude, azimuth = ephemeris.altitude_azimuth(
        "sun", latitude_deg, longitude_deg, days_of(at)
    )

    sun = sun_position(latitude_deg=latitude_deg, longitude_deg=longitude_deg, at=at)

    across = turn_between(sun.azimuth_deg, azimuth) * np.cos(np.radians(altitude))
    assert np.abs(sun.altitude_deg - altitude).max() < 0.0005
    assert np.abs(across).max() < 0.0005


def test_a_year_of_five_minutes_matches_the_solar_position_algorithm() -> None:
    # pvlib's SPA (Reda & Andreas 2004), which takes UTC as UT1 too.
    at = year_of(5)
    rows = spa_rows(52.37, 4.9, at)

    sun = sun_position(latitude_deg=52.37, longitude_deg=4.9, at=at)

    across = turn_between(sun.azimuth_deg, rows[4]) * np.cos(np.radians(rows[3]))
    assert np.abs(sun.altitude_deg - rows[3]).max() < 0.0005
    assert np.abs(across).max() < 0.0005
    clear_of_sunset = np.abs(rows[3] - SUNSET_ALTITUDE_DEG) > 0.001
    apparent = np.abs(sun.apparent_altitude_deg - rows[2])
    assert apparent[clear_of_sunset].max() < 0.0006


def test_the_air_lifts_nothing_at_sunset_and_below() -> None:
    sun = sun_position(latitude_deg=52.37, longitude_deg=4.9, at=year_of(5))
    set_down = sun.altitude_deg <= SUNSET_ALTITUDE_DEG

    lift = sun.apparent_altitude_deg - sun.altitude_deg
    assert (lift[set_down] == 0.0).all()
    assert (lift[~set_down & (sun.altitude_deg < 88.0)] > 0.0).all()


@pytest.mark.parametrize("step_minutes", [1, 5, 7, 60, 1440])
@pytest.mark.parametrize("skipped", [0, 1, 333])
def test_even_and_uneven_moments_agree(step_minutes: int, skipped: int) -> None:
    at = year_of(step_minutes)[skipped:] + np.timedelta64(17, "s")
    pick = np.random.default_rng(3).integers(0, at.size, 500)

    even = sun_position(latitude_deg=-33.9, longitude_deg=151.2, at=at)
    uneven = sun_position(latitude_deg=-33.9, longitude_deg=151.2, at=at[pick])

    assert even.altitude_deg.shape == at.shape
    assert even.altitude_deg[pick] == pytest.approx(uneven.altitude_deg, abs=1e-8)
    assert even.azimuth_deg[pick] == pytest.approx(uneven.azimuth_deg, abs=1e-8)


def test_one_moment_gives_floats_and_many_give_their_shape() -> None:
    at = datetime(2026, 6, 21, 12, tzinfo=UTC)
    many = np.array([["2026-06-21T12:00", "2026-06-21T13:00"]], dtype="datetime64[m]")

    one = sun_position(latitude_deg=10.0, longitude_deg=20.0, at=at)
    same = sun_position(latitude_deg=10.0, longitude_deg=20.0, at=many[0, 0])
    grid = sun_position(latitude_deg=10.0, longitude_deg=20.0, at=many)
    none = sun_position(latitude_deg=10.0, longitude_deg=20.0, at=many[:, :0])

    assert type(one.altitude_deg) is float
    assert type(same.azimuth_deg) is float
    assert same == one
    assert grid.altitude_deg.shape == (1, 2)
    assert grid.altitude_deg[0, 0] == pytest.approx(one.altitude_deg, abs=1e-8)
    assert none.azimuth_deg.shape == (1, 0)


def test_any_time_zone_names_the_same_moment() -> None:
    utc = datetime(2026, 6, 21, 12, tzinfo=UTC)
    elsewhere = utc.astimezone(timezone(timedelta(hours=12, minutes=45)))

    first = sun_position(latitude_deg=-44.0, longitude_deg=-176.5, at=utc)
    second = sun_position(latitude_deg=-44.0, longitude_deg=-176.5, at=elsewhere)

    assert first == second


@pytest.mark.parametrize(
    ("latitude_deg", "longitude_deg", "named"),
    [
        (90.1, 0.0, "90.1"),
        (float("nan"), 0.0, "nan"),
        (0.0, 180.5, "180.5"),
        (0.0, float("inf"), "inf"),
    ],
)
def test_a_place_off_the_earth_is_refused(
    latitude_deg: float, longitude_deg: float, named: str
) -> None:
    at = datetime(2026, 6, 21, tzinfo=UTC)

    with pytest.raises(ValueError, match=named):
        sun_position(latitude_deg=latitude_deg, longitude_deg=longitude_deg, at=at)


def test_a_moment_without_time_zone_or_without_time_is_refused() -> None:
    naive = datetime(2026, 6, 21, tzinfo=UTC).replace(tzinfo=None)
    gap = np.array(["2026-06-21", "NaT"], dtype="datetime64[s]")
    wrong: Instants = np.zeros(3)  # type: ignore[assignment]

    with pytest.raises(ValueError, match="2026-06-21"):
        sun_position(latitude_deg=0.0, longitude_deg=0.0, at=naive)
    with pytest.raises(ValueError, match="NaT"):
        sun_position(latitude_deg=0.0, longitude_deg=0.0, at=gap)
    with pytest.raises(ValueError, match="float64"):
        sun_position(latitude_deg=0.0, longitude_deg=0.0, at=wrong)


def test_a_position_cannot_be_changed_nor_made_by_order() -> None:
    sun = SunPosition(altitude_deg=1.0, apparent_altitude_deg=1.4, azimuth_deg=2.0)

    with pytest.raises(AttributeError):
        sun.altitude_deg = 5.0  # type: ignore[misc]
    with pytest.raises(TypeError):
        SunPosition(1.0, 1.4, 2.0)  # type: ignore[call-arg]


@settings(max_examples=200, deadline=None)
@given(latitude_deg=LATITUDES, longitude_deg=LONGITUDES, at=MOMENTS)
def test_the_far_side_of_the_earth_sees_the_sun_as_far_below(
    latitude_deg: float, longitude_deg: float, at: datetime
) -> None:
    # But for the parallax of 8.794" at both ends.
    across = longitude_deg - 180.0 if longitude_deg > 0.0 else longitude_deg + 180.0

    here = sun_position(latitude_deg=latitude_deg, longitude_deg=longitude_deg, at=at)
    there = sun_position(latitude_deg=-latitude_deg, longitude_deg=across, at=at)

    parallax = 2.0 * 8.794 / 3600.0 * np.cos(np.radians(here.altitude_deg))
    total = here.altitude_deg + there.altitude_deg
    assert total == pytest.approx(-parallax, abs=1e-5)


@settings(max_examples=200, deadline=None)
@given(latitude_deg=LATITUDES, longitude_deg=LONGITUDES, at=MOMENTS)
def test_a_minute_moves_the_sun_by_a_quarter_degree_at_most(
    latitude_deg: float, longitude_deg: float, at: datetime
) -> None:
    later = at + timedelta(minutes=1)

    now = sun_position(latitude_deg=latitude_deg, longitude_deg=longitude_deg, at=at)
    then = sun_position(
        latitude_deg=latitude_deg, longitude_deg=longitude_deg, at=later
    )

    assert -90.0 <= now.altitude_deg <= 90.0
    assert 0.0 <= now.azimuth_deg < 360.0
    assert now.apparent_altitude_deg >= now.altitude_deg - 0.0001
    assert abs(then.altitude_deg - now.altitude_deg) < 0.2512
