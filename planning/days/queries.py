"""The light of one date at one place, with no session in it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta

from jobs.places.models import Place
from jobs.places.zones import time_zone_at
from planning.light.almanac import LightDay, light_day
from planning.light.illuminance import Sky
from planning.shoots.cautions import lost_words
from planning.shoots.charts.light_chart import light_chart
from planning.shoots.charts.skyline_chart import skyline_chart
from planning.shoots.charts.strip import clock_minute, strip_of
from planning.shoots.daylight import Daylight, Where
from planning.shoots.planned import PlannedShoot
from planning.shoots.queries import where_of
from planning.shoots.shown import (
    NARROW_CHART,
    NARROW_SKYLINE,
    TOLERANCE,
    LightRow,
    events_of,
    light_rows,
)
from planning.shoots.sun_days import sun_day_words
from studio.profile.models import StudioProfile
from studio.scene.day_strip import StripLook
from studio.scene.drawing import Drawing

AROUND = timedelta(hours=2)
WIDE_STRIP = StripLook(width=1180.0, height=34.0, type_size=13.0)
NARROW_STRIP = StripLook(width=390.0, type_size=12.5)


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """Where the light is asked for, and what the place is called."""

    name: str
    where: Where


@dataclass(frozen=True, slots=True, kw_only=True)
class ShownDay:
    """The light of a date as a page shows it."""

    name: str
    on: date
    zone: str
    strip: Drawing
    strip_narrow: Drawing
    chart: Drawing
    chart_narrow: Drawing
    skyline: Drawing
    skyline_narrow: Drawing
    events: tuple[tuple[str, datetime | None], ...]
    rows: tuple[LightRow, ...]
    lost: str
    sun_words: str
    moon_words: str
    state: str
    tolerance: str


def spot_of(place: Place) -> Spot:
    """Return a saved place as a spot, its skyline among it."""
    return Spot(name=place.name, where=where_of(place))


def spot_at(latitude_deg: float, longitude_deg: float, name: str = "") -> Spot:
    """Return coordinates as a spot under a free horizon."""
    where = Where(
        latitude_deg=latitude_deg,
        longitude_deg=longitude_deg,
        time_zone=time_zone_at(latitude_deg, longitude_deg),
        estimated=False,
    )
    return Spot(name=name or f"{latitude_deg:g}, {longitude_deg:g}", where=where)


def home_spot() -> Spot | None:
    """Return the studio's home place; None where it has not said where that is."""
    studio = StudioProfile.load()
    if studio.home_latitude is None or studio.home_longitude is None:
        return None
    return spot_at(studio.home_latitude, studio.home_longitude, studio.home_name)


def shown_day(spot: Spot, on: date, at: datetime) -> ShownDay:
    """Return the light of a date at a spot; `at` marks the time now if it is today."""
    where = spot.where
    shoot = _whole_day(spot, on)
    day = shoot.light.day
    now = clock_minute(at, on, where.zone)
    minute = now if 0 <= now < 1440 else None
    return ShownDay(
        name=spot.name,
        on=on,
        zone=where.time_zone,
        strip=strip_of(where, on, now_minute=minute, look=WIDE_STRIP),
        strip_narrow=strip_of(where, on, now_minute=minute, look=NARROW_STRIP),
        chart=light_chart(shoot),
        chart_narrow=light_chart(shoot, NARROW_CHART),
        skyline=skyline_chart(shoot),
        skyline_narrow=skyline_chart(shoot, NARROW_SKYLINE),
        events=(
            *events_of(shoot),
            ("Moonrise", day.moonrise),
            ("Moonset", day.moonset),
        ),
        rows=light_rows(shoot),
        lost=lost_words(shoot.lost, where.zone) if shoot.lost else "",
        sun_words=sun_day_words(shoot.light),
        moon_words=f"{day.moon_fraction * 100:.0f}% of the moon is lit",
        state=_state_words(day),
        tolerance=TOLERANCE,
    )


def _whole_day(spot: Spot, on: date) -> PlannedShoot:
    where = spot.where
    day = light_day(
        latitude_deg=where.latitude_deg,
        longitude_deg=where.longitude_deg,
        on=on,
        tz=where.zone,
    )
    start, end = _span(day, on, where)
    light = Daylight(where, start, end)
    light.on = on
    return PlannedShoot(
        booking_id=0,
        title="",
        place_name=spot.name,
        starts_at=start,
        ends_at=end,
        sky=Sky.CLEAR,
        sky_words="clear",
        light=light,
        lost=light.lost,
        set_ups=(),
        cautions=(),
    )


def _span(day: LightDay, on: date, where: Where) -> tuple[datetime, datetime]:
    """Return two hours before sunrise to two after sunset, or the whole date."""
    midnight = datetime.combine(on, time.min, where.zone).astimezone(UTC)
    start, end = midnight, midnight + timedelta(days=1)
    if day.sunrise and day.sunset:
        start, end = day.sunrise - AROUND, day.sunset + AROUND
    return start, end


def _state_words(day: LightDay) -> str:
    return {
        "rises and sets": "",
        "always up": "The sun does not set that day.",
        "always down": "The sun does not rise that day.",
    }[day.sun_state]
