"""When the sun comes, passes behind things, and goes: against DE421."""

from datetime import UTC, datetime, timedelta

import numpy as np
import pytest

from planning.light.illuminance import Sky
from planning.shoots.daylight import Daylight, Where, minutes_between
from planning.shoots.sun_days import sun_day_words
from planning.sites.points import SkyPoint
from planning.sites.skyline import Stretch
from tests.planning.light.ephemeris import full_ephemeris

COAST = {"latitude_deg": 54.47, "longitude_deg": -0.62, "time_zone": "Europe/London"}
DAWN = datetime(2027, 10, 14, 5, 30, tzinfo=UTC)
DUSK = datetime(2027, 10, 14, 17, 30, tzinfo=UTC)
WOOD = Stretch(from_deg=70, to_deg=135, height_deg=9.0, name="wood")
HOUSE = Stretch(from_deg=170, to_deg=190, height_deg=40.0, name="house")


def light(**fields: object) -> Daylight:
    return Daylight(Where(**COAST, **fields), DAWN, DUSK)  # type: ignore[arg-type]


def sun_by_minute() -> tuple[list[datetime], np.ndarray, np.ndarray]:
    times = minutes_between(DAWN, DUSK)
    days = np.array([at.timestamp() / 86_400.0 for at in times])
    with full_ephemeris() as sky:
        altitude, azimuth = sky.altitude_azimuth("sun", 54.47, -0.62, days)
    return times, altitude, azimuth


def first(mask: np.ndarray, times: list[datetime]) -> datetime:
    return times[int(np.flatnonzero(mask)[0])]


def close(one: datetime, two: datetime) -> bool:
    return abs(one - two) <= timedelta(minutes=1.01)


def test_the_sun_comes_over_a_wood_within_a_degree_either_side() -> None:
    times, altitude, _azimuth = sun_by_minute()
    came = light(skyline=(WOOD,), estimated=True).arrives

    assert came is not None
    assert close(came.edge.earliest_at, first(altitude > 8.0, times))
    assert close(came.edge.latest_at, first(altitude > 10.0, times))
    assert (came.behind, came.estimated) == ("wood", True)


def test_a_house_takes_the_sun_at_noon_and_gives_it_back() -> None:
    times, _altitude, azimuth = sun_by_minute()
    (gap,) = light(skyline=(HOUSE,), estimated=False).gaps

    assert close(gap.goes.latest_at, first(azimuth >= 170.0, times))
    assert close(gap.comes.latest_at, first(azimuth > 190.0, times))
    assert (gap.behind, gap.is_certain) == ("house", True)


def test_a_roof_that_the_sun_may_just_clear_is_said_to_be_doubtful() -> None:
    _times, altitude, _azimuth = sun_by_minute()
    roof = Stretch(
        from_deg=178, to_deg=182, height_deg=float(altitude.max()) - 0.3, name="roof"
    )
    here = light(skyline=(roof,), estimated=True)

    assert [gap.is_certain for gap in here.gaps] == [False]
    assert "may pass behind roof about" in sun_day_words(here)


def test_a_rising_line_of_points_takes_the_sun_where_they_cross() -> None:
    times, altitude, azimuth = sun_by_minute()
    line = (
        SkyPoint(azimuth_deg=220.0, height_deg=2.0),
        SkyPoint(azimuth_deg=260.0, height_deg=12.0),
    )
    lost = light(profile=line, estimated=False).lost

    # By hand the ridge stands 2 + (azimuth - 220)/4 degrees high.
    below = (azimuth > 220.0) & (altitude < 2.0 + (azimuth - 220.0) / 4.0)
    assert lost is not None
    assert close(lost.latest_at, first(below, times))


def test_bare_trees_thin_the_sun_and_widen_the_bounds() -> None:
    trees = Stretch(
        from_deg=90,
        to_deg=270,
        height_deg=60.0,
        name="oaks",
        leaf_from="05-01",
        leaf_to="10-01",
    )
    bare, free = light(skyline=(trees,)), light()
    noon = DAWN + timedelta(hours=6)
    thin = bare.face_level(bare.moment(noon), Sky.CLEAR, 180.0)
    full = free.face_level(free.moment(noon), Sky.CLEAR, 180.0)

    # Half to one and a half stops of the sun's share: common practice, no source.
    loss = full.exposure_value - thin.exposure_value
    assert 0.5 < loss <= 1.0
    assert thin.low_stops - full.low_stops == pytest.approx(0.5, abs=0.01)
    assert bare.moment(noon).is_shining


def test_where_the_sun_never_clears_the_skyline_it_does_not_come() -> None:
    wall = Stretch(from_deg=0, to_deg=360, height_deg=80.0, name="wall")
    here = light(skyline=(wall,), estimated=False)

    assert (here.arrives, here.gaps) == (None, ())
