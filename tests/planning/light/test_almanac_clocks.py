"""The almanac on odd clocks: changes of the hour, the date line, half-hour zones."""

from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from planning.light.almanac import light_day, light_days


@pytest.mark.parametrize(
    ("zone", "on", "longitude_deg", "noon_local"),
    [
        ("Europe/Amsterdam", "2026-03-29", 4.9, "13:45"),
        ("Europe/Amsterdam", "2026-10-25", 4.9, "12:24"),
        ("Australia/Lord_Howe", "2026-04-05", 159.08, "11:57"),
        ("Australia/Lord_Howe", "2026-10-04", 159.08, "12:12"),
        ("Asia/Kathmandu", "2026-06-21", 85.32, "12:06"),
        ("Pacific/Chatham", "2026-01-15", -176.56, "13:41"),
        ("America/St_Johns", "2026-07-01", -52.71, "13:05"),
        ("Pacific/Kiritimati", "2026-01-01", -157.4, "12:33"),
        ("Pacific/Pago_Pago", "2026-01-01", -170.7, "12:26"),
        ("Asia/Kolkata", "2026-11-03", 77.2, "12:05"),
    ],
)
def test_the_noon_of_a_date_is_the_one_near_its_twelve_oclock(
    zone: str, on: str, longitude_deg: float, noon_local: str
) -> None:
    # By hand: 12:00 UT less 4 minutes a degree east, less the equation of time (from
    # memory, to a minute: -5 on 29 March, +16 on 25 October, -3 on 5 April, +11 on
    # 4 October, -2 on 21 June, -9 on 15 January, -4 on 1 July, -3 on 1 January, +16
    # on 3 November), read on the zone's own clock.
    day = light_day(
        latitude_deg=-20.0,
        longitude_deg=longitude_deg,
        on=date.fromisoformat(on),
        tz=ZoneInfo(zone),
    )

    local = day.solar_noon.astimezone(ZoneInfo(zone))
    assert local.date().isoformat() == on
    wanted = datetime.fromisoformat(f"{on}T{noon_local}").replace(tzinfo=local.tzinfo)
    assert abs((local - wanted).total_seconds()) < 120.0


@pytest.mark.parametrize(
    ("zone", "on", "hours"),
    [
        ("Europe/Amsterdam", "2026-03-29", 23.0),
        ("Europe/Amsterdam", "2026-10-25", 25.0),
        ("Australia/Lord_Howe", "2026-10-04", 23.5),
        ("Australia/Lord_Howe", "2026-04-05", 24.5),
        ("Asia/Kathmandu", "2026-06-21", 24.0),
        ("America/Havana", "2026-03-08", 23.0),
    ],
)
def test_the_moons_events_lie_within_the_local_date(
    zone: str, on: str, hours: float
) -> None:
    clock = ZoneInfo(zone)
    first = date.fromisoformat(on) - timedelta(days=15)
    days = light_days(
        latitude_deg=30.0, longitude_deg=85.0, first_on=first, days=30, tz=clock
    )

    for count, day in enumerate(days):
        for moment in (day.moonrise, day.moonset):
            if moment is not None:
                local = moment.astimezone(clock)
                assert local.date() == first + timedelta(days=count)
    midnights = [
        datetime.combine(
            date.fromisoformat(on) + timedelta(days=n), datetime.min.time()
        )
        for n in (0, 1)
    ]
    start, stop = (one.replace(tzinfo=clock).astimezone(UTC) for one in midnights)
    assert (stop - start) == timedelta(hours=hours)


def test_about_once_a_month_the_moon_does_not_rise_within_the_date() -> None:
    days = light_days(
        latitude_deg=52.37,
        longitude_deg=4.9,
        first_on=date(2026, 1, 1),
        days=365,
        tz=ZoneInfo("Europe/Amsterdam"),
    )

    # 365 days hold 365 / 1.03505 = 352.6 moonrises, and as many moonsets.
    assert sum(day.moonrise is None for day in days) in (12, 13)
    assert sum(day.moonset is None for day in days) in (12, 13)


def test_a_date_that_was_skipped_has_its_sun_and_no_moon() -> None:
    # Samoa went from 29 to 31 December 2011 across the date line.
    days = light_days(
        latitude_deg=-13.8,
        longitude_deg=-171.8,
        first_on=date(2011, 12, 28),
        days=5,
        tz=ZoneInfo("Pacific/Apia"),
    )

    skipped = days[2]
    assert (skipped.moonrise, skipped.moonset) == (None, None)
    assert skipped.sun_state == "rises and sets"
    assert all(day.moonrise or day.moonset for day in days if day is not skipped)


def test_a_zone_far_from_the_place_still_finds_the_nearest_noon() -> None:
    day = light_day(
        latitude_deg=0.0,
        longitude_deg=170.0,
        on=date(2026, 6, 21),
        tz=ZoneInfo("America/Los_Angeles"),
    )

    twelve = datetime(2026, 6, 21, 12, tzinfo=ZoneInfo("America/Los_Angeles"))
    assert abs(day.solar_noon - twelve) < timedelta(hours=12, minutes=1)
    assert day.sunrise is not None
    assert day.sunset is not None
    assert timedelta(hours=12) < day.sunset - day.sunrise < timedelta(hours=12.3)
