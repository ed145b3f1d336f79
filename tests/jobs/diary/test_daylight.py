from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from jobs.diary.daylight import (
    Booked,
    Spot,
    events_on,
    minute_of,
    phases_on,
    shared_window,
    strip_on,
    sun_words,
)
from studio.scene.day_phases import DayPhase

COAST = Spot(latitude_deg=54.47, longitude_deg=-0.62, time_zone="Europe/London")
NORTH = Spot(latitude_deg=69.65, longitude_deg=18.96, time_zone="Europe/Oslo")
BACK = date(2026, 10, 25)  # the clocks of the United Kingdom go back at 01:00 UTC


def test_the_words_and_the_strip_agree_on_the_rise_of_the_sun() -> None:
    on = date(2026, 10, 14)
    sunrise = events_on(COAST, on).sunrise
    assert sunrise

    rises = [
        one.minute
        for one in phases_on(COAST, on)
        if one.phase is DayPhase.LOW_SUN and one.minute > 0
    ]

    # Ten-minute samples with straight lines between: within seconds at this latitude.
    assert minute_of(sunrise, COAST, on) == pytest.approx(rises[0], abs=0.5)
    assert f"{sunrise.astimezone(COAST.zone):%H:%M}" in sun_words(COAST, on)


@pytest.mark.parametrize(
    ("on", "words"),
    [
        (date(2026, 6, 21), "The sun does not set"),
        (date(2026, 12, 21), "The sun does not rise"),
    ],
)
def test_the_far_north_has_days_without_an_end_or_a_beginning(
    on: date, words: str
) -> None:
    # At 69.65 N the sun stays up from 18 May to 26 July and down from 26 November to
    # 15 January, as the town's own almanacs say (from memory).
    assert sun_words(NORTH, on) == words
    assert strip_on(NORTH, on).description


def test_a_sunset_after_midnight_says_so() -> None:
    assert sun_words(NORTH, date(2026, 5, 17)).endswith(" the day after")


def test_on_the_day_the_clocks_go_back_the_strip_goes_by_the_clock() -> None:
    noon = datetime(2026, 10, 25, 12, tzinfo=ZoneInfo("Europe/London"))

    assert minute_of(noon, COAST, BACK) == 720.0
    sunset = events_on(COAST, BACK).sunset
    assert sunset
    local = sunset.astimezone(COAST.zone)
    dusk = [one.minute for one in phases_on(COAST, BACK) if one.phase is DayPhase.CIVIL]
    evening = local.hour * 60 + local.minute + local.second / 60
    assert dusk[-1] == pytest.approx(evening, abs=0.5)


def test_a_session_whose_end_reads_before_its_start_is_still_drawn() -> None:
    booked = Booked(
        starts_at=datetime(2026, 10, 25, 0, 50, tzinfo=UTC),
        ends_at=datetime(2026, 10, 25, 1, 10, tzinfo=UTC),
    )

    assert strip_on(COAST, BACK, booked=[booked]).ops


def test_days_that_stand_together_share_a_window() -> None:
    days = [date(2026, 6, 15) + timedelta(days=7 * week) for week in range(20)]

    first, last = shared_window(COAST, days)

    alone = [shared_window(COAST, [day]) for day in days]
    assert first == min(one for one, _ in alone)
    assert last == max(other for _, other in alone)
