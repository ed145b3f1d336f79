"""The day's events against skyfield with DE421: none missed, none made up."""

from dataclasses import dataclass
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

import numpy as np
import pytest

from planning.light.almanac import LightDay, light_day
from planning.light.moments import FloatArray, days_since_epoch
from tests.planning.light.ephemeris import FullEphemeris

HORIZONS = {
    "astronomical": -18.0,
    "nautical": -12.0,
    "civil": -6.0,
    "sun": -0.8333,
}
SAMPLES = 289  # every five minutes of a day
HIDDEN_DEG = 0.015  # a dip or top this small may hide between samples
SLACK_DAYS = 10.0 / 86_400.0
HALF_MINUTE = 30.0 / 86_400.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    latitude_deg: float
    longitude_deg: float
    on: date
    zone: str

    def light(self) -> LightDay:
        return light_day(
            latitude_deg=self.latitude_deg,
            longitude_deg=self.longitude_deg,
            on=self.on,
            tz=ZoneInfo(self.zone),
        )


def random_places(seed: int, count: int, limits: tuple[float, float]) -> list[Place]:
    draw = np.random.default_rng(seed)
    zones = ["UTC", "Europe/Oslo", "Pacific/Auckland", "America/St_Johns"]
    return [
        Place(
            latitude_deg=float(draw.uniform(*limits)) * float(draw.choice([-1.0, 1.0])),
            longitude_deg=float(draw.uniform(-180.0, 180.0)),
            on=date(1950, 1, 1) + timedelta(days=int(draw.integers(0, 36_890))),
            zone=str(draw.choice(zones)),
        )
        for _ in range(count)
    ]


def crossings(days: FloatArray, heights: FloatArray, *, upward: bool) -> FloatArray:
    """Return the samples after which the heights cross zero."""
    above = heights >= 0.0
    turned = above[1:] & ~above[:-1] if upward else ~above[1:] & above[:-1]
    return days[:-1][turned]


def assert_same_crossing(
    found: datetime | None, wanted: FloatArray, heights: FloatArray
) -> None:
    """Check that an event exists where samples show it, but for hidden grazings."""
    step = 1.0 / (SAMPLES - 1)
    if found is not None and wanted.size:
        assert -SLACK_DAYS <= days_since_epoch(found) - wanted[0] <= step + SLACK_DAYS
    elif found is not None or wanted.size:
        assert min(np.abs(heights).min(), np.abs(np.diff(heights)).min()) < HIDDEN_DEG


def assert_sun_event(
    ephemeris: FullEphemeris, place: Place, found: datetime | None, height_deg: float
) -> None:
    """Check by the ephemeris how far the sun is from the altitude at an event."""
    if found is None:
        return
    moments = days_since_epoch(found) + np.array([-HALF_MINUTE, 0.0, HALF_MINUTE])
    altitudes = ephemeris.sun_altitude(place.latitude_deg, place.longitude_deg, moments)
    off_deg = abs(altitudes[1] - height_deg)
    rate_deg_s = abs(altitudes[2] - altitudes[0]) / 60.0
    assert off_deg < 0.0005
    assert off_deg < rate_deg_s * (1.0 if abs(place.latitude_deg) < 60.0 else 10.0)


@pytest.mark.parametrize(
    ("seed", "limits"), [(1, (0.0, 60.0)), (2, (60.0, 69.0)), (3, (69.0, 90.0))]
)
def test_random_days_of_a_century_hold_the_suns_events(
    ephemeris: FullEphemeris, seed: int, limits: tuple[float, float]
) -> None:
    for place in random_places(seed, 30, limits):
        day = place.light()
        noon = days_since_epoch(day.solar_noon)
        at = (place.latitude_deg, place.longitude_deg)
        before = np.linspace(noon - 0.5, noon, SAMPLES // 2 + 1)
        after = np.linspace(noon, noon + 0.5, SAMPLES // 2 + 1)
        rising, falling = (
            ephemeris.sun_altitude(*at, part) for part in (before, after)
        )
        for name, height in HORIZONS.items():
            dawn = getattr(day, "sunrise" if name == "sun" else f"{name}_dawn")
            dusk = getattr(day, "sunset" if name == "sun" else f"{name}_dusk")
            ups = crossings(before, rising - height, upward=True)[::-1]
            downs = crossings(after, falling - height, upward=False)
            assert_same_crossing(dawn, ups, rising - height)
            assert_same_crossing(dusk, downs, falling - height)
            for event in (dawn, dusk):
                assert_sun_event(ephemeris, place, event, height)


def test_random_noons_of_a_century_are_the_nearest_ones(
    ephemeris: FullEphemeris,
) -> None:
    for place in random_places(4, 25, (0.0, 90.0)):
        day = place.light()
        noon = days_since_epoch(day.solar_noon)
        clock = ZoneInfo(place.zone)
        twelve = days_since_epoch(
            datetime(place.on.year, place.on.month, place.on.day, 12, tzinfo=clock)
        )

        noons = ephemeris.noons(place.longitude_deg, twelve - 1.1, twelve + 1.1)

        nearest = noons[np.argmin(np.abs(noons - twelve))]
        assert abs(noon - nearest) * 86_400.0 < 0.2


@pytest.mark.parametrize(("seed", "limits"), [(5, (0.0, 60.0)), (6, (60.0, 90.0))])
def test_random_days_of_a_century_hold_the_moons_events(
    ephemeris: FullEphemeris, seed: int, limits: tuple[float, float]
) -> None:
    for place in random_places(seed, 30, limits):
        day = place.light()
        clock = ZoneInfo(place.zone)
        midnights = [
            datetime(on.year, on.month, on.day, tzinfo=clock)
            for on in (place.on, place.on + timedelta(days=1))
        ]
        first, last = (days_since_epoch(midnight) for midnight in midnights)
        samples = np.linspace(first, last, SAMPLES)
        at = (place.latitude_deg, place.longitude_deg)
        heights = ephemeris.moon_above_horizon(*at, samples)
        rises = crossings(samples, heights, upward=True)
        sets = crossings(samples, heights, upward=False)
        for event, wanted in ((day.moonrise, rises), (day.moonset, sets)):
            assert_same_crossing(event, wanted, heights)
            if event is not None:
                off_deg, rate_deg_s = moon_error(ephemeris, place, event)
                assert off_deg < 0.002
                assert off_deg < rate_deg_s * (1.0 if rate_deg_s > 3 / 3600 else 10.0)
        noon = np.array([days_since_epoch(day.solar_noon)])
        phase = np.radians(ephemeris.moon_phase_angle(noon)[0])
        assert day.moon_fraction == pytest.approx((1.0 + np.cos(phase)) / 2, abs=2e-4)


def moon_error(
    ephemeris: FullEphemeris, place: Place, event: datetime
) -> tuple[float, float]:
    moments = days_since_epoch(event) + np.array([-HALF_MINUTE, 0.0, HALF_MINUTE])
    heights = ephemeris.moon_above_horizon(
        place.latitude_deg, place.longitude_deg, moments
    )
    return abs(float(heights[1])), abs(float(heights[2] - heights[0])) / 60.0


@pytest.mark.parametrize("latitude_deg", [64.5, 65.9, 66.8, 67.4, -66.2, -68.0])
def test_days_at_the_limits_of_the_midnight_sun_miss_nothing(
    ephemeris: FullEphemeris, latitude_deg: float
) -> None:
    # Where ready-made searches that sample every hour lose both sunrise and sunset.
    turn = date(2026, 6, 21) if latitude_deg > 0.0 else date(2026, 12, 21)
    for away in range(-36, 37, 3):
        on = turn + timedelta(days=away)
        day = light_day(
            latitude_deg=latitude_deg, longitude_deg=25.0, on=on, tz=ZoneInfo("UTC")
        )
        noon = days_since_epoch(day.solar_noon)
        midnights = noon + np.linspace(0.485, 0.5, 44)
        lowest = ephemeris.sun_altitude(latitude_deg, 25.0, midnights).min()

        if lowest < -0.8343:
            assert day.sunset is not None
        if lowest > -0.8323:
            assert day.sunset is None
            assert day.sun_state in ("always up", "rises and sets")
