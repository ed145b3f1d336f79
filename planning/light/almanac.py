"""The light of a day: dawn, sunrise, solar noon, sunset, dusk, and the moon.

A day of light runs around one solar noon, not from midnight to midnight: in a northern
June the civil day may hold two sunsets or none.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, tzinfo
from itertools import pairwise
from math import radians, sin
from typing import Literal

import numpy as np

from planning.light.air import SUNSET_ALTITUDE_DEG
from planning.light.crossings import Crossings, sun_crossings
from planning.light.moments import (
    DAY_US,
    FloatArray,
    Instants,
    check_place,
    days_since_epoch,
    utc_datetime,
)
from planning.light.moon import moon_phase
from planning.light.moonrise import moon_crossings

SunState = Literal["rises and sets", "always up", "always down"]

SUN_EVENTS = (
    "astronomical_dawn",
    "nautical_dawn",
    "civil_dawn",
    "sunrise",
    "solar_noon",
    "sunset",
    "civil_dusk",
    "nautical_dusk",
    "astronomical_dusk",
)
_ALTITUDES_DEG = np.array([-18.0, -12.0, -6.0, SUNSET_ALTITUDE_DEG])
_SUNSET_SINE = sin(radians(SUNSET_ALTITUDE_DEG))


@dataclass(frozen=True, slots=True, kw_only=True)
class LightDay:
    """The events of one day at one place: UTC, None where there is no such event."""

    astronomical_dawn: datetime | None
    nautical_dawn: datetime | None
    civil_dawn: datetime | None
    sunrise: datetime | None
    solar_noon: datetime
    sunset: datetime | None
    civil_dusk: datetime | None
    nautical_dusk: datetime | None
    astronomical_dusk: datetime | None
    moonrise: datetime | None
    moonset: datetime | None
    moon_fraction: float
    sun_state: SunState


def light_day(
    *, latitude_deg: float, longitude_deg: float, on: date, tz: tzinfo
) -> LightDay:
    """Return the light of one date at a place.

    The sun's events stand around the solar noon nearest to 12:00 local: a dawn event is
    the last upward crossing in the 12 h before it, a dusk event the first downward one
    in the 12 h after. The moon's events are the first of each within the local date.
    The centre of the sun at -0.8333 degrees (34' of refraction, 16' of radius), -6, -12
    and -18; the upper limb of the moon at -34'.
    Units: degrees; aware datetimes in UTC; `moon_fraction` 0 to 1, at solar noon.
    Error: 1 s below 60 degrees of latitude, 10 s where a body grazes the horizon.
    Errors: ValueError for a place off the Earth.
    Source: crossings of ephem's places; conventions of the US Naval Observatory.
    """
    (only,) = light_days(
        latitude_deg=latitude_deg,
        longitude_deg=longitude_deg,
        first_on=on,
        days=1,
        tz=tz,
    )
    return only


def light_days(
    *, latitude_deg: float, longitude_deg: float, first_on: date, days: int, tz: tzinfo
) -> list[LightDay]:
    """Return the light of consecutive dates at a place; `light_day` has the rules.

    Errors: ValueError for a place off the Earth or fewer than one day.
    """
    check_place(latitude_deg, longitude_deg)
    sun = _sun(latitude_deg, longitude_deg, _local_times(first_on, days, tz, hour=12))
    midnights = _local_times(first_on, days + 1, tz, hour=0)
    rises, sets = moon_crossings(
        latitude_deg=latitude_deg,
        longitude_deg=longitude_deg,
        first_day=float(midnights[0]),
        last_day=float(midnights[-1]),
    )
    phase, _parallax = moon_phase(sun.noon)
    table = _sun_table(sun).T.tolist()
    columns = zip(
        table,
        _first_within(midnights, rises),
        _first_within(midnights, sets),
        ((1.0 + np.cos(phase)) / 2.0).tolist(),
        _states(sun),
        strict=True,
    )
    return [_light_day(*column) for column in columns]


def sun_events(
    *, latitude_deg: float, longitude_deg: float, first_on: date, days: int, tz: tzinfo
) -> Instants:
    """Return the sun's nine events of consecutive dates as one table.

    Shape: (days, 9), the columns in the order of `SUN_EVENTS`. Units: datetime64 in
    UTC, NaT where there is no such event. Rules, errors and source as `light_day`.
    """
    check_place(latitude_deg, longitude_deg)
    sun = _sun(latitude_deg, longitude_deg, _local_times(first_on, days, tz, hour=12))
    table = _sun_table(sun).T * DAY_US
    missing = np.isnan(table)
    instants = np.rint(np.where(missing, 0.0, table)).astype("datetime64[us]")
    instants[missing] = np.datetime64("NaT")
    return instants


def _sun(latitude_deg: float, longitude_deg: float, near: FloatArray) -> Crossings:
    return sun_crossings(
        latitude_deg=latitude_deg,
        longitude_deg=longitude_deg,
        near_days=near,
        altitudes_deg=_ALTITUDES_DEG,
    )


def _sun_table(sun: Crossings) -> FloatArray:
    return np.vstack([sun.upward, sun.noon, sun.downward[::-1]])


def _local_times(first_on: date, days: int, tz: tzinfo, *, hour: int) -> FloatArray:
    """Return a time on the clock of consecutive dates, in days since 1970 UTC."""
    if days < 1:
        raise ValueError(f"{days} is not a number of days")
    clock = time(hour, tzinfo=tz)
    first = first_on.toordinal()
    dates = map(date.fromordinal, range(first, first + days))
    return np.array([days_since_epoch(datetime.combine(on, clock)) for on in dates])


def _first_within(midnights: FloatArray, moments: FloatArray) -> list[float]:
    """Return the first of the moments in each date, NaN where there is none."""
    places = np.searchsorted(moments, midnights)
    padded = [*moments.tolist(), float("nan")]
    return [
        padded[start] if start < stop else float("nan")
        for start, stop in pairwise(places.tolist())
    ]


def _states(sun: Crossings) -> list[SunState]:
    crosses = ~np.isnan(sun.upward[-1]) | ~np.isnan(sun.downward[-1])
    is_up = sun.noon_sine > _SUNSET_SINE
    return [
        "rises and sets" if rises else "always up" if up else "always down"
        for rises, up in zip(crosses.tolist(), is_up.tolist(), strict=True)
    ]


def _light_day(
    events: Sequence[float],
    moonrise: float,
    moonset: float,
    moon_fraction: float,
    sun_state: SunState,
) -> LightDay:
    before, after = events[:4], events[5:]
    dawns = [utc_datetime(moment) for moment in before]
    dusks = [utc_datetime(moment) for moment in after]
    noon = utc_datetime(events[4])
    if noon is None:
        raise ValueError("every day has a solar noon")
    return LightDay(
        astronomical_dawn=dawns[0],
        nautical_dawn=dawns[1],
        civil_dawn=dawns[2],
        sunrise=dawns[3],
        solar_noon=noon,
        sunset=dusks[0],
        civil_dusk=dusks[1],
        nautical_dusk=dusks[2],
        astronomical_dusk=dusks[3],
        moonrise=utc_datetime(moonrise),
        moonset=utc_datetime(moonset),
        moon_fraction=moon_fraction,
        sun_state=sun_state,
    )
