"""The light of one place through some hours: sun, skyline, and levels as EV."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from functools import cached_property, lru_cache
from zoneinfo import ZoneInfo

import numpy as np

from planning.light.almanac import LightDay, light_day
from planning.light.exposure import exposure_value_from_lux
from planning.light.illuminance import (
    Sky,
    horizontal_lux,
    open_shade_lux,
    tolerance_stops,
    vertical_lux,
)
from planning.light.sun import sun_position
from planning.sites.skyline import Skyline, Stretch, height_at, highest_at

SUNRISE_DEG = -0.8333
SIDE_ON_DEG = 90.0
SKYLINE_ERROR_DEG = 1.0
"""How far a skyline judged by eye may be wrong; common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Where:
    """A place as light sees it."""

    latitude_deg: float
    longitude_deg: float
    time_zone: str
    skyline: Skyline = ()
    estimated: bool = True
    ground_reflectance: float = 0.2

    @property
    def zone(self) -> ZoneInfo:
        """The clock of the place."""
        return ZoneInfo(self.time_zone)


@dataclass(frozen=True, slots=True, kw_only=True)
class Moment:
    """Where the sun stands at one moment, and whether it reaches the place."""

    at: datetime
    altitude_deg: float
    azimuth_deg: float
    hidden_by: Stretch | None

    @property
    def is_up(self) -> bool:
        """Whether the sun is above a free horizon."""
        return self.altitude_deg > SUNRISE_DEG

    @property
    def is_shining(self) -> bool:
        """Whether the sun reaches the place, clouds apart."""
        return self.is_up and self.hidden_by is None


@dataclass(frozen=True, slots=True, kw_only=True)
class Lost:
    """When the sun leaves the place for the day: a span, as skylines are judged.

    `behind` names what it goes behind; empty for the horizon itself.
    """

    earliest_at: datetime
    latest_at: datetime
    behind: str
    estimated: bool

    @property
    def is_sharp(self) -> bool:
        """Whether both ends fall into one minute."""
        return self.latest_at - self.earliest_at < timedelta(minutes=1)


@dataclass(frozen=True, slots=True, kw_only=True)
class Level:
    """Light on a face: EV at ISO 100, lux, and honest bounds in stops."""

    lux: float
    exposure_value: float
    low_stops: float
    high_stops: float


class Daylight:
    """The light of a place on the days that a span of time touches."""

    def __init__(self, where: Where, start: datetime, end: datetime) -> None:
        self.where = where
        self.start, self.end = start, end
        self.on: date = start.astimezone(where.zone).date()

    @cached_property
    def day(self) -> LightDay:
        """The events of the day on which the span starts."""
        return light_day(
            latitude_deg=self.where.latitude_deg,
            longitude_deg=self.where.longitude_deg,
            on=self.on,
            tz=self.where.zone,
        )

    def moments(self, times: Sequence[datetime]) -> list[Moment]:
        """Return where the sun stands at each time."""
        if not times:
            return []
        stamps = np.array(
            [_utc(at) for at in times],
            dtype="datetime64[us]",
        )
        sun = sun_position(
            latitude_deg=self.where.latitude_deg,
            longitude_deg=self.where.longitude_deg,
            at=stamps,
        )
        rows = zip(times, sun.altitude_deg, sun.azimuth_deg, strict=True)
        return [self._moment(at, float(up), float(az)) for at, up, az in rows]

    def moment(self, at: datetime) -> Moment:
        """Return where the sun stands at one time."""
        return self.moments([at])[0]

    def _moment(self, at: datetime, altitude_deg: float, azimuth_deg: float) -> Moment:
        behind = highest_at(self.where.skyline, azimuth_deg)
        hidden = behind if behind and altitude_deg < behind.height_deg else None
        return Moment(
            at=at,
            altitude_deg=altitude_deg,
            azimuth_deg=azimuth_deg,
            hidden_by=hidden,
        )

    @cached_property
    def lost(self) -> Lost | None:
        """When the sun leaves the place for good on the day of the span."""
        if self.day.sunset is None or self.day.solar_noon is None:
            return None
        times = minutes_between(self.day.solar_noon, self.day.sunset)
        moments = self.moments(times)
        spare = SKYLINE_ERROR_DEG if self.where.estimated else 0.0
        first = self._last_clear(moments, spare) or moments[0].at
        last = self._last_clear(moments, -spare) or first
        at_end = next((one for one in moments if one.at >= first), moments[-1])
        behind = highest_at(self.where.skyline, at_end.azimuth_deg)
        named = behind.name or "the skyline" if behind and first < times[-1] else ""
        return Lost(
            earliest_at=first,
            latest_at=max(last, first),
            behind=named,
            estimated=self.where.estimated and bool(named),
        )

    def _last_clear(self, moments: list[Moment], spare_deg: float) -> datetime | None:
        clear = [
            one.at
            for one in moments
            if one.altitude_deg > self._needed_deg(one.azimuth_deg, spare_deg)
        ]
        return clear[-1] if clear else None

    def _needed_deg(self, azimuth_deg: float, spare_deg: float) -> float:
        height = height_at(self.where.skyline, azimuth_deg)
        return max(height + spare_deg, SUNRISE_DEG) if height else SUNRISE_DEG

    def sun_ev(self, moment: Moment, sky: Sky) -> float:
        """Return the EV on a face turned to the sun, skyline or not."""
        return self._ev(self._facing_lux(moment, sky, moment.azimuth_deg))

    def shade_ev(self, moment: Moment, sky: Sky) -> float:
        """Return the EV in open shade, under half the sky."""
        return self._ev(self.shade_lux(moment, sky))

    def cloud_ev(self, moment: Moment, sky: Sky) -> float:
        """Return the EV on an upright face under a closed sky."""
        side_on = moment.azimuth_deg + SIDE_ON_DEG
        return self._ev(self._facing_lux(moment, sky, side_on))

    def face_level(self, moment: Moment, sky: Sky, facing_deg: float) -> Level:
        """Return the light on a face in the open that looks one way."""
        if moment.is_up and not moment.is_shining:
            return self.shade_level(moment, sky)
        return self._level(self._facing_lux(moment, sky, facing_deg), moment, sky)

    def shade_level(self, moment: Moment, sky: Sky) -> Level:
        """Return the light on a face in open shade."""
        return self._level(self.shade_lux(moment, sky), moment, sky)

    def window_level(self, moment: Moment, sky: Sky, share_pct: float) -> Level:
        """Return the light of a window that lets so much of the outdoor light in.

        The share is a daylight factor, defined under an overcast sky; so a clear sky
        is counted as an overcast one, and a stop is added to the bounds.
        """
        overcast = sky if sky is Sky.HEAVY_OVERCAST else Sky.OVERCAST
        outdoors = horizontal_lux(
            altitude_deg=moment.altitude_deg,
            sky=overcast,
            day_of_year=self._day_of_year(moment),
        )
        level = self._level(float(outdoors) * share_pct / 100.0, moment, overcast)
        return Level(
            lux=level.lux,
            exposure_value=level.exposure_value,
            low_stops=max(level.low_stops, 1.0),
            high_stops=max(level.high_stops, 1.0),
        )

    def shade_lux(self, moment: Moment, sky: Sky) -> float:
        """Return the light of half the sky, the sun off to one side, in lux."""
        return float(
            open_shade_lux(
                altitude_deg=moment.altitude_deg,
                sky=sky,
                day_of_year=self._day_of_year(moment),
                relative_azimuth_deg=SIDE_ON_DEG,
            )
        )

    def _facing_lux(self, moment: Moment, sky: Sky, facing_deg: float) -> float:
        return float(
            vertical_lux(
                altitude_deg=moment.altitude_deg,
                sky=sky,
                day_of_year=self._day_of_year(moment),
                relative_azimuth_deg=turn_deg(moment.azimuth_deg, facing_deg),
                ground_reflectance=self.where.ground_reflectance,
            )
        )

    def _level(self, lux: float, moment: Moment, sky: Sky) -> Level:
        low, high = tolerance_stops(altitude_deg=moment.altitude_deg, sky=sky)
        return Level(
            lux=lux, exposure_value=self._ev(lux), low_stops=low, high_stops=high
        )

    def _ev(self, lux: float) -> float:
        ev = exposure_value_from_lux(lux)
        if ev is None:
            raise ValueError(f"{lux} lx has no exposure value")
        return ev

    def _day_of_year(self, moment: Moment) -> int:
        return moment.at.astimezone(self.where.zone).timetuple().tm_yday


@lru_cache(maxsize=512)
def daylight(where: Where, start: datetime, end: datetime) -> Daylight:
    """Return the light of a place over a span; asked again, the same object."""
    return Daylight(where, start, end)


def turn_deg(azimuth_deg: float, from_deg: float) -> float:
    """Return the turn from one azimuth to another, -180 to 180, clockwise above 0."""
    return (azimuth_deg - from_deg + 180.0) % 360.0 - 180.0


def minutes_between(
    start: datetime, end: datetime, step: timedelta = timedelta(minutes=1)
) -> list[datetime]:
    """Return the times from start to end in steps, both ends among them, in UTC."""
    start, end = start.astimezone(UTC), end.astimezone(UTC)
    count = max(int((end - start) / step), 0)
    times = [start + step * index for index in range(count + 1)]
    return times if times[-1] == end else [*times, end]


def _utc(at: datetime) -> datetime:
    return at.astimezone(UTC).replace(tzinfo=None)
