from datetime import UTC, date, datetime, timedelta

import numpy as np
import pytest

from planning.light.illuminance import Sky
from planning.shoots.daylight import Daylight, Moment, Where, minutes_between, turn_deg
from planning.sites.skyline import Stretch
from tests.planning.light.ephemeris import full_ephemeris

COAST = {"latitude_deg": 54.47, "longitude_deg": -0.62, "time_zone": "Europe/London"}
HEADLAND = Stretch(from_deg=225, to_deg=262, height_deg=6.5, name="headland")
START = datetime(2027, 10, 14, 14, tzinfo=UTC)
END = START + timedelta(hours=3, minutes=45)


def light(**fields: object) -> Daylight:
    return Daylight(Where(**COAST, **fields), START, END)  # type: ignore[arg-type]


def last_minute_above(height_deg: float) -> datetime:
    """Return the last whole minute at which DE421's sun is above a height."""
    times = minutes_between(START, END)
    days = np.array([at.timestamp() / 86_400.0 for at in times])
    with full_ephemeris() as sky:
        heights = sky.sun_altitude(54.47, -0.62, days)
    return times[int(np.flatnonzero(heights > height_deg)[-1])]


def moment(altitude_deg: float, azimuth_deg: float, **fields: object) -> Moment:
    at = datetime(2027, 7, 1, 12, tzinfo=UTC)  # day 182 of the year
    values = {"at": at, "hidden_by": None} | fields
    return Moment(altitude_deg=altitude_deg, azimuth_deg=azimuth_deg, **values)  # type: ignore[arg-type]


def test_a_measured_skyline_takes_the_sun_at_its_own_minute() -> None:
    # skyfield with DE421 is the outside witness of when the sun passes 6.5 degrees.
    lost = light(skyline=(HEADLAND,), estimated=False).lost

    assert lost is not None
    assert abs(lost.earliest_at - last_minute_above(6.5)) <= timedelta(minutes=1)
    assert (lost.is_sharp, lost.behind) == (True, "headland")


def test_a_skyline_judged_by_eye_gives_a_span_of_a_degree_either_side() -> None:
    lost = light(skyline=(HEADLAND,), estimated=True).lost

    assert lost is not None
    assert abs(lost.earliest_at - last_minute_above(7.5)) <= timedelta(minutes=1)
    assert abs(lost.latest_at - last_minute_above(5.5)) <= timedelta(minutes=1)
    assert lost.estimated


def test_a_free_horizon_keeps_the_sun_until_sunset() -> None:
    open_coast = light()

    assert open_coast.lost is not None
    assert open_coast.day.sunset is not None
    wait = open_coast.day.sunset - open_coast.lost.latest_at
    assert abs(wait) <= timedelta(minutes=1)
    assert open_coast.lost.behind == ""


def test_where_the_sun_does_not_set_it_is_not_lost() -> None:
    june = datetime(2027, 6, 20, 20, tzinfo=UTC)
    where = Where(latitude_deg=69.65, longitude_deg=18.96, time_zone="Europe/Oslo")

    assert Daylight(where, june, june + timedelta(hours=3)).lost is None


@pytest.mark.parametrize(
    ("facing", "exposure_value"), [(180.0, 15.1), (90.0, 12.2), (0.0, 11.6)]
)
def test_a_face_gets_the_published_light_by_where_it_looks(
    facing: float, exposure_value: float
) -> None:
    # IES 1984 practice worked out by hand at 30 degrees, ground 0.2, day 182: 90.1 klx
    # facing the sun, 11.8 side-on, 7.7 away; ANSI PH2.7 says 15 and "open shade 12".
    level = light().face_level(moment(30.0, 180.0), Sky.CLEAR, facing)

    assert level.exposure_value == pytest.approx(exposure_value, abs=0.05)


def test_a_face_behind_the_skyline_gets_the_light_of_open_shade() -> None:
    hidden = moment(5.0, 240.0, hidden_by=HEADLAND)
    here = light(skyline=(HEADLAND,))

    assert here.face_level(hidden, Sky.CLEAR, 240.0) == here.shade_level(
        hidden, Sky.CLEAR
    )


def test_a_window_lets_its_share_of_an_overcast_sky_in() -> None:
    # A daylight factor is defined under the overcast sky: 2 % of IES's 10 800 lx at
    # 30 degrees is 216 lx.
    level = light().window_level(moment(30.0, 180.0), Sky.CLEAR, 2.0)

    assert level.lux == pytest.approx(216.0, rel=0.005)
    assert min(level.low_stops, level.high_stops) >= 1.0


def test_dark_overcast_stays_dark_behind_a_window() -> None:
    here, noon = light(), moment(30.0, 180.0)
    grey = here.window_level(noon, Sky.OVERCAST, 2.0)
    dark = here.window_level(noon, Sky.HEAVY_OVERCAST, 2.0)

    # Circular 171's divisors, 10 against 3, are 1.7 stops.
    assert grey.exposure_value - dark.exposure_value == pytest.approx(1.74, abs=0.05)


@pytest.mark.parametrize(
    ("to", "start", "turn"), [(10, 350, 20), (350, 10, -20), (90, 90, 0)]
)
def test_turns_go_the_short_way(to: float, start: float, turn: float) -> None:
    assert turn_deg(to, start) == turn


def test_the_day_is_that_of_the_places_own_clock() -> None:
    late = datetime(2027, 6, 20, 22, 30, tzinfo=UTC)
    where = Where(
        latitude_deg=-36.85, longitude_deg=174.76, time_zone="Pacific/Auckland"
    )

    assert Daylight(where, late, late + timedelta(hours=1)).on == date(2027, 6, 21)
