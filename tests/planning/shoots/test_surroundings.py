"""Sky, ground and a wall on the shadow side outdoors."""

from datetime import UTC, datetime, timedelta
from math import log2

import pytest

from planning.light.illuminance import Sky
from planning.shoots.choices import Light, WallOutdoors
from planning.shoots.daylight import Daylight, Moment, Where
from planning.shoots.lamp_words import fill_reasons
from planning.shoots.models import SetUp
from planning.shoots.planned import PlannedSetUp
from planning.shoots.queries import plan_set_ups

LONDON = Where(latitude_deg=51.5, longitude_deg=0.0, time_zone="Europe/London")
NOON = datetime(2027, 6, 21, 12, tzinfo=UTC)
LOW = datetime(2027, 6, 21, 18, 30, tzinfo=UTC)


def light_at(at: datetime) -> tuple[Daylight, Moment]:
    light = Daylight(LONDON, at, at + timedelta(hours=1))
    return light, light.moment(at)


def a_row(at: datetime, light: Light, *, off_sun_deg: float, **fields: object) -> SetUp:
    """Return a set-up whose sitters look so many degrees off the sun."""
    _, moment = light_at(at)
    facing = (moment.azimuth_deg + off_sun_deg) % 360.0
    heading = (facing + 180.0) % 360.0
    return SetUp(
        name="One",
        starts_at=at,
        minutes=1,
        light=light,
        camera_heading_deg=heading,
        **fields,
    )


def planned(row: SetUp, sky: Sky) -> PlannedSetUp:
    light, _ = light_at(row.starts_at)
    return plan_set_ups([row], light, sky)[0]


def contrast(row: SetUp, sky: Sky) -> float:
    """Return lit over shadow side."""
    under = planned(row, sky).fill.under_stops
    assert under is not None
    return float(2.0**under)


@pytest.mark.parametrize("off_sun", [0.0, 45.0, 90.0, 135.0, 180.0])
@pytest.mark.parametrize("at", [NOON, LOW])
@pytest.mark.parametrize("sky", [Sky.CLEAR, Sky.PARTLY_CLOUDY, Sky.OVERCAST])
def test_open_shade_is_soft_but_not_flat(
    off_sun: float, at: datetime, sky: Sky
) -> None:
    # Common practice, no source: open shade is about 2:1 to 3:1 without a board;
    # one stop either side for where the blue sky is brightest.
    row = a_row(at, Light.OPEN_SHADE, off_sun_deg=off_sun)

    assert 1.25 <= contrast(row, sky) <= 4.5


def test_open_shade_is_two_to_three_on_the_mean_of_all_ways_to_look() -> None:
    ratios = [
        contrast(a_row(at, Light.OPEN_SHADE, off_sun_deg=turn), Sky.CLEAR)
        for at in (NOON, LOW)
        for turn in (0.0, 45.0, 90.0, 135.0, 180.0)
    ]

    assert 2.0 <= 2.0 ** (sum(map(log2, ratios)) / len(ratios)) <= 3.0


@pytest.mark.parametrize("off_sun", [0.0, 45.0, 90.0])
def test_low_sun_is_hard(off_sun: float) -> None:
    # Common practice, no source: unfilled sun is three stops and more, 8:1.
    row = a_row(LOW, Light.OPEN_SKY, off_sun_deg=off_sun)

    assert contrast(row, Sky.CLEAR) > 8.0


def test_a_closed_sky_and_a_sun_behind_leave_a_face_flat() -> None:
    under_cloud = a_row(NOON, Light.OPEN_SKY, off_sun_deg=45.0)
    sun_behind = a_row(LOW, Light.OPEN_SKY, off_sun_deg=180.0)

    assert contrast(under_cloud, Sky.OVERCAST) == pytest.approx(1.1)
    assert contrast(sun_behind, Sky.CLEAR) == pytest.approx(1.1)


def test_shade_under_a_closed_sky_by_hand() -> None:
    # By hand, IES 1984 overcast: half the sky gives level ground 10.7 sin a, a wall
    # gets 8.5 sin a from the whole, half of that here; grass throws up 0.2/2 of
    # 10.7 sin a. 10.7/(4.25 + 1.07) is 2.01.
    row = a_row(NOON, Light.OPEN_SHADE, off_sun_deg=90.0)

    assert contrast(row, Sky.OVERCAST) == pytest.approx(2.01, abs=0.01)


def a_wall(tone: WallOutdoors, **fields: object) -> SetUp:
    """Return sitters in shade with a wall that fills half of their dark side's view."""
    endless = {"wall_width_m": 4000.0, "wall_height_m": 2000.0, "wall_distance_m": 1.0}
    values = {"wall_tone": tone, "wall_bearing_deg": -90.0} | endless | fields
    return a_row(NOON, Light.OPEN_SHADE, off_sun_deg=180.0, **values)


def test_an_endless_dark_wall_leaves_its_tone_of_what_falls_on_it() -> None:
    # By hand, IES 1984 overcast, all times sin a: the wall gets 8.5 of sky and 1.07
    # from the ground. It fills the side's view above the eyes and, 1 m off and 1.5 m
    # down, 1/2 (1 + 1.5/sqrt(1 + 1.5^2)) = 0.916 in all (endless strip square to it);
    # the ground keeps 0.168 of its own 1.07. 10.7/(0.12 * 9.57 * 0.916 + 0.18) is 8.7.
    dark = a_wall(WallOutdoors.DARK)

    assert contrast(dark, Sky.OVERCAST) == pytest.approx(8.69, abs=0.02)


def test_a_white_wall_is_no_darker_than_the_sky_that_it_hides() -> None:
    # Then the other side is the darker one, and nothing is to be said of the wall.
    one = planned(a_wall(WallOutdoors.WHITE), Sky.OVERCAST)

    assert one.fill.wall is None
    assert one.fill.under_stops == pytest.approx(log2(2.011), abs=0.01)


def test_sun_on_a_wall_fills_the_shade_beside_it() -> None:
    white = {"wall_tone": WallOutdoors.WHITE, "wall_bearing_deg": -90.0}
    shaded = a_row(NOON, Light.OPEN_SKY, off_sun_deg=90.0, **white)
    sunlit = a_row(NOON, Light.OPEN_SKY, off_sun_deg=90.0, wall_in_sun=True, **white)
    before, after = planned(shaded, Sky.CLEAR).fill, planned(sunlit, Sky.CLEAR).fill

    assert (before.wall or 0.0) > 0.0
    assert (after.wall or 0.0) > 2.0 * (before.wall or 0.0)
    assert "Sky, ground and the wall leave" in " ".join(
        fill_reasons(planned(sunlit, Sky.CLEAR))
    )
