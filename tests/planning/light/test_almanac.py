"""The day's events against published times, and the rules of their day."""

from datetime import UTC, date, datetime, timedelta
from typing import TypedDict
from zoneinfo import ZoneInfo

import numpy as np
import pytest

from planning.light.almanac import (
    SUN_EVENTS,
    LightDay,
    light_day,
    light_days,
    sun_events,
)

GREENWICH = ZoneInfo("UTC")


class Site(TypedDict):
    latitude_deg: float
    longitude_deg: float
    tz: ZoneInfo


REYKJAVIK: Site = {
    "latitude_deg": 64.1466,
    "longitude_deg": -21.9426,
    "tz": ZoneInfo("Atlantic/Reykjavik"),
}
TROMSO: Site = {
    "latitude_deg": 69.6492,
    "longitude_deg": 18.9553,
    "tz": ZoneInfo("Europe/Oslo"),
}


def at(text: str) -> datetime:
    return datetime.fromisoformat(text)


def seconds_off(found: datetime | None, wanted: datetime) -> float:
    assert found is not None
    return abs((found - wanted).total_seconds())


def day_of(
    latitude_deg: float, longitude_deg: float, on: str, zone: str = "UTC"
) -> LightDay:
    return light_day(
        latitude_deg=latitude_deg,
        longitude_deg=longitude_deg,
        on=date.fromisoformat(on),
        tz=ZoneInfo(zone),
    )


@pytest.mark.parametrize(
    ("on", "sunrise", "noon", "sunset"),
    [
        ("1996-07-05", "07:08:15", "12:04:36", "17:01:04"),
        ("2004-12-04", "04:38:57", "11:50:22", "19:02:03"),
    ],
)
def test_the_published_times_of_the_solar_position_algorithm(
    on: str, sunrise: str, noon: str, sunset: str
) -> None:
    # Reda & Andreas 2004, table A4.x: latitude -35, longitude 0, UT (published).
    day = day_of(-35.0, 0.0, on)

    assert seconds_off(day.sunrise, at(f"{on}T{sunrise}+00:00")) < 2.0
    assert seconds_off(day.solar_noon, at(f"{on}T{noon}+00:00")) < 2.0
    assert seconds_off(day.sunset, at(f"{on}T{sunset}+00:00")) < 2.0


def test_the_day_of_the_algorithms_worked_example() -> None:
    # The same report's example day at Golden; times recomputed with pvlib's SPA, which
    # goes by the day of UTC: its sunset of 17:20:19 is that of the evening before.
    day = day_of(39.742476, -105.1786, "2003-10-17", "America/Denver")
    before = day_of(39.742476, -105.1786, "2003-10-16", "America/Denver")

    assert seconds_off(day.sunrise, at("2003-10-17T06:12:43-07:00")) < 2.0
    assert seconds_off(day.solar_noon, at("2003-10-17T11:46:05-07:00")) < 2.0
    assert seconds_off(before.sunset, at("2003-10-16T17:20:19-07:00")) < 2.0


def test_golden_in_august_matches_its_published_times() -> None:
    # Published in pvlib's tests for 2015-08-02, which go by the day of UTC: their
    # sunset of 19:13:58 MST is that of the evening before.
    day = day_of(39.742, -105.179, "2015-08-02", "America/Denver")
    before = day_of(39.742, -105.179, "2015-08-01", "America/Denver")

    assert seconds_off(day.sunrise, at("2015-08-02T05:00:27-07:00")) < 60.0
    assert seconds_off(day.solar_noon, at("2015-08-02T12:06:58-07:00")) < 2.0
    assert seconds_off(before.sunset, at("2015-08-01T19:13:58-07:00")) < 60.0


def test_a_northern_june_keeps_one_sunset_a_day() -> None:
    # Civil days at Reykjavik hold the sunset of the evening before, none or two.
    first = date(2026, 6, 1)
    days = light_days(**REYKJAVIK, first_on=first, days=45)

    for count, day in enumerate(days):
        noon = datetime.combine(first + timedelta(days=count), datetime.min.time(), UTC)
        assert day.sun_state == "rises and sets"
        assert day.sunrise is not None
        assert day.sunset is not None
        assert day.sunrise < day.solar_noon < day.sunset
        assert abs(day.solar_noon - noon - timedelta(hours=13.5)) < timedelta(hours=0.2)
        assert day.sunset - day.solar_noon < timedelta(hours=12)


def test_sunset_after_midnight_belongs_to_the_evening_before() -> None:
    # 2026-06-20 sets at 00:03:46 on the 21st (skyfield and ephem agree on it).
    day = light_day(**REYKJAVIK, on=date(2026, 6, 20))

    assert seconds_off(day.sunset, at("2026-06-21T00:03:46+00:00")) < 10.0


def test_the_midnight_sun_and_the_polar_night() -> None:
    summer = light_day(**TROMSO, on=date(2026, 6, 21))
    winter = light_day(**TROMSO, on=date(2026, 12, 21))

    assert summer.sun_state == "always up"
    assert summer.sunrise is None
    assert summer.astronomical_dusk is None
    assert winter.sun_state == "always down"
    assert winter.sunset is None
    assert winter.civil_dawn is not None
    assert winter.civil_dusk is not None
    assert winter.civil_dawn < winter.solar_noon < winter.civil_dusk


def test_states_change_only_where_the_sun_grazes_the_horizon() -> None:
    days = light_days(**TROMSO, first_on=date(2026, 1, 1), days=365)
    states = [day.sun_state for day in days]
    runs = [
        state
        for state, before in zip(states, [None, *states], strict=False)
        if state != before
    ]

    assert runs == [
        "always down",
        "rises and sets",
        "always up",
        "rises and sets",
        "always down",
    ]


def test_one_of_the_two_events_may_be_missing() -> None:
    # A day may begin with a sunrise and then have no sunset for weeks.
    lonely = [
        day
        for latitude_deg in (66.0, 67.0, 68.0, 69.0, 70.0)
        for day in light_days(
            latitude_deg=latitude_deg,
            longitude_deg=25.0,
            first_on=date(2026, 1, 1),
            days=365,
            tz=GREENWICH,
        )
        if (day.sunrise is None) != (day.sunset is None)
    ]

    assert lonely
    assert {day.sun_state for day in lonely} == {"rises and sets"}


@pytest.mark.parametrize("latitude_deg", [90.0, -90.0, 89.99, -89.95])
def test_at_a_pole_the_sun_is_up_for_half_the_year(latitude_deg: float) -> None:
    days = light_days(
        latitude_deg=latitude_deg,
        longitude_deg=0.0,
        first_on=date(2026, 1, 1),
        days=365,
        tz=GREENWICH,
    )
    states = [day.sun_state for day in days]

    assert 180 < states.count("always up") < 195
    assert states.count("rises and sets") <= 10
    assert states.count("always down") > 165


def test_at_the_pole_the_sun_rises_once_and_sets_once_a_year() -> None:
    # Dawn is looked for before noon and dusk after it: at longitudes half a turn apart
    # the two halves make a whole day. The sun's centre passes 50' south of the equator
    # two days from the equinoxes of 2026-03-20 14:46 and 2026-09-23 00:05 UT (from
    # memory).
    days = [
        day
        for longitude_deg in (0.0, 180.0)
        for day in light_days(
            latitude_deg=90.0,
            longitude_deg=longitude_deg,
            first_on=date(2026, 1, 1),
            days=365,
            tz=GREENWICH,
        )
    ]

    rises = [day.sunrise for day in days if day.sunrise is not None]
    sets = [day.sunset for day in days if day.sunset is not None]
    assert [moment.date() for moment in rises] == [date(2026, 3, 18)]
    assert [moment.date() for moment in sets] == [date(2026, 9, 25)]


def test_a_days_light_is_the_same_alone_and_in_a_year() -> None:
    site: Site = {
        "latitude_deg": 52.37,
        "longitude_deg": 4.9,
        "tz": ZoneInfo("Europe/Amsterdam"),
    }
    first = date(2026, 1, 1)
    days = light_days(**site, first_on=first, days=365)

    for count in (0, 87, 171, 297, 364):
        alone = light_day(**site, on=first + timedelta(days=count))
        for name in (*SUN_EVENTS, "moonrise", "moonset"):
            one, other = getattr(alone, name), getattr(days[count], name)
            assert (one is None) == (other is None)
            if one is not None:
                assert seconds_off(one, other) < 0.05


def test_the_table_of_events_holds_what_the_days_hold() -> None:
    site: Site = {
        "latitude_deg": 58.0,
        "longitude_deg": 12.0,
        "tz": ZoneInfo("Europe/Stockholm"),
    }
    days = light_days(**site, first_on=date(2026, 4, 1), days=60)

    table = sun_events(**site, first_on=date(2026, 4, 1), days=60)

    assert table.shape == (60, 9)
    for day, row in zip(days, table, strict=True):
        for name, moment in zip(SUN_EVENTS, row, strict=True):
            wanted = getattr(day, name)
            if wanted is None:
                assert np.isnat(moment)
            else:
                naive = wanted.replace(tzinfo=None)
                off = abs(moment - np.datetime64(naive))
                assert off <= np.timedelta64(2, "us")


def test_a_day_cannot_be_changed() -> None:
    day = day_of(52.37, 4.9, "2026-06-21")

    with pytest.raises(AttributeError):
        day.sunrise = None  # type: ignore[misc]


def test_no_days_and_no_such_place_are_refused() -> None:
    with pytest.raises(ValueError, match="0 is not"):
        light_days(**REYKJAVIK, first_on=date(2026, 1, 1), days=0)
    with pytest.raises(ValueError, match=r"-91\.0"):
        day_of(-91.0, 0.0, "2026-01-01")
    with pytest.raises(ValueError, match=r"181\.0"):
        day_of(0.0, 181.0, "2026-01-01")
