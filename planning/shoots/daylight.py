"""The light of one place through some hours: sun, skyline, and levels as EV."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, timedelta
from functools import cached_property, lru_cache
from math import cos, radians, sin
from zoneinfo import ZoneInfo

import numpy as np

from planning.light.air import SUNSET_ALTITUDE_DEG
from planning.light.almanac import LightDay, light_day
from planning.light.exposure import exposure_value_from_lux
from planning.light.illuminance import (
    Sky,
    direct_normal_lux,
    horizontal_lux,
    open_shade_lux,
    tolerance_stops,
    vertical_lux,
)
from planning.light.sun import sun_position
from planning.shoots.passages import (
    Arrival,
    Gap,
    Shines,
    Stage,
    arrival,
    gaps,
)
from planning.sites.points import Profile
from planning.sites.skyline import Horizon, Ridge, Skyline, Stretch

SIDE_ON_DEG = 90.0
BARE_LOSS_STOPS = (0.5, 1.5)
"""What bare crowns take of the sun, least and most; common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Where:
    """A place as light sees it."""

    latitude_deg: float
    longitude_deg: float
    time_zone: str
    skyline: Skyline = ()
    profile: Profile = ()
    marks: Profile = ()
    estimated: bool = True
    ground_reflectance: float = 0.2
    ground: str = ""
    """What lies there, by the place's own entry; empty where nobody said."""

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
    hidden_by: Ridge | None
    thinned_by: Stretch | None = None
    """Trees without leaves that stand before the sun."""

    @property
    def is_up(self) -> bool:
        """Whether the sun is above a free horizon."""
        return self.altitude_deg > SUNSET_ALTITUDE_DEG

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

    @cached_property
    def horizon(self) -> Horizon:
        """The skyline as it stands on the day of the span."""
        where = self.where
        return Horizon(
            stretches=where.skyline,
            profile=where.profile,
            marks=where.marks,
            estimated=where.estimated,
            on=self.on,
        )

    def _moment(self, at: datetime, altitude_deg: float, azimuth_deg: float) -> Moment:
        ridge = self.horizon.at(azimuth_deg)
        hidden = ridge if ridge and altitude_deg < ridge.height_deg else None
        trees = self.horizon.bare_at(azimuth_deg)
        thinned = trees if trees and altitude_deg < trees.height_deg else None
        return Moment(
            at=at,
            altitude_deg=altitude_deg,
            azimuth_deg=azimuth_deg,
            hidden_by=hidden,
            thinned_by=None if hidden else thinned,
        )

    @cached_property
    def _stages(self) -> list[Stage]:
        """Each minute from sunrise to sunset."""
        if self.day.sunrise is None or self.day.sunset is None:
            return []
        moments = self.moments(minutes_between(self.day.sunrise, self.day.sunset))
        return [self._stage(moment) for moment in moments]

    def _stage(self, moment: Moment) -> Stage:
        ridge = self.horizon.at(moment.azimuth_deg)
        if ridge is None:
            return Stage(at=moment.at, shines=Shines.YES)
        spare = moment.altitude_deg - ridge.height_deg
        shines = Shines.MAYBE
        if abs(spare) >= ridge.error_deg:
            shines = Shines.YES if spare > 0 else Shines.NO
        return Stage(
            at=moment.at,
            shines=shines,
            behind=ridge.name or "the skyline",
            estimated=ridge.error_deg > 0,
        )

    @cached_property
    def arrives(self) -> Arrival | None:
        """When the sun first reaches the place on the day of the span."""
        return arrival(self._stages)

    @cached_property
    def gaps(self) -> tuple[Gap, ...]:
        """When the sun goes behind something and comes back that day."""
        return gaps(self._stages)

    @cached_property
    def lost(self) -> Lost | None:
        """When the sun leaves the place for good on the day of the span."""
        if self.day.sunset is None or self.day.solar_noon is None:
            return None
        times = minutes_between(self.day.solar_noon, self.day.sunset)
        moments = self.moments(times)
        first = self._last_clear(moments, 1.0) or moments[0].at
        last = self._last_clear(moments, -1.0) or first
        at_end = next((one for one in moments if one.at >= first), moments[-1])
        ridge = self.horizon.at(at_end.azimuth_deg)
        named = ridge.name or "the skyline" if ridge and first < times[-1] else ""
        return Lost(
            earliest_at=first,
            latest_at=max(last, first),
            behind=named,
            estimated=bool(named and ridge and ridge.error_deg),
        )

    def _last_clear(self, moments: list[Moment], errors: float) -> datetime | None:
        """Return when the sun is last above the skyline, so many errors higher."""
        clear = [
            one.at
            for one in moments
            if one.altitude_deg > self._needed_deg(one.azimuth_deg, errors)
        ]
        return clear[-1] if clear else None

    def _needed_deg(self, azimuth_deg: float, errors: float) -> float:
        ridge = self.horizon.at(azimuth_deg)
        if ridge is None or not ridge.height_deg:
            return SUNSET_ALTITUDE_DEG
        return max(ridge.height_deg + errors * ridge.error_deg, SUNSET_ALTITUDE_DEG)

    def face_level(self, moment: Moment, sky: Sky, facing_deg: float) -> Level:
        """Return the light on a face in the open that looks one way."""
        if moment.is_up and not moment.is_shining:
            return self.shade_level(moment, sky)
        lux = self._facing_lux(moment, sky, facing_deg)
        if moment.is_up and moment.thinned_by is not None:
            return self._thinned(lux, moment, sky)
        return self.level_of(lux, moment, sky)

    def _thinned(self, lux: float, moment: Moment, sky: Sky) -> Level:
        """Return the light through bare crowns: what is over open shade is thinned."""
        least, most = BARE_LOSS_STOPS
        shade = min(self.shade_lux(moment, sky), lux)
        usual = (least + most) / 2.0
        level = self.level_of(shade + (lux - shade) / 2.0**usual, moment, sky)
        return replace(
            level,
            low_stops=level.low_stops + most - usual,
            high_stops=level.high_stops + usual - least,
        )

    def shade_level(self, moment: Moment, sky: Sky) -> Level:
        """Return the light on a face in open shade."""
        return self.level_of(self.shade_lux(moment, sky), moment, sky)

    def window_level(self, moment: Moment, sky: Sky, share_pct: float) -> Level:
        """Return the light of a window that lets so much of the outdoor light in.

        The share is a daylight factor, defined under an overcast sky; so a clear sky
        is counted as an overcast one, and a stop is added to the bounds.
        """
        overcast = sky if sky is Sky.HEAVY_OVERCAST else Sky.OVERCAST
        outdoors = horizontal_lux(
            altitude_deg=moment.altitude_deg,
            sky=overcast,
            day_of_year=self.day_of_year(moment),
        )
        level = self.level_of(float(outdoors) * share_pct / 100.0, moment, overcast)
        return Level(
            lux=level.lux,
            exposure_value=level.exposure_value,
            low_stops=max(level.low_stops, 1.0),
            high_stops=max(level.high_stops, 1.0),
        )

    def sun_lux(self, moment: Moment, sky: Sky) -> float:
        """Return the sun's own light on a plane square to it, in lux."""
        return float(
            direct_normal_lux(
                altitude_deg=moment.altitude_deg,
                sky=sky,
                day_of_year=self.day_of_year(moment),
            )
        )

    def sky_lux(self, moment: Moment, sky: Sky) -> float:
        """Return the sky's light on the level ground without the sun's, in lux."""
        whole = horizontal_lux(
            altitude_deg=moment.altitude_deg,
            sky=sky,
            day_of_year=self.day_of_year(moment),
        )
        level_sun = sin(radians(max(moment.altitude_deg, 0.0)))
        return max(float(whole) - self.sun_lux(moment, sky) * level_sun, 0.0)

    def sky_on_wall_lux(self, moment: Moment, sky: Sky, facing_deg: float) -> float:
        """Return the sky's light on an upright wall without sun or ground, in lux."""
        turn = turn_deg(moment.azimuth_deg, facing_deg)
        whole = vertical_lux(
            altitude_deg=moment.altitude_deg,
            sky=sky,
            day_of_year=self.day_of_year(moment),
            relative_azimuth_deg=turn,
            ground_reflectance=0.0,
        )
        squarely = cos(radians(moment.altitude_deg)) * max(cos(radians(turn)), 0.0)
        return max(float(whole) - self.sun_lux(moment, sky) * squarely, 0.0)

    def shade_lux(self, moment: Moment, sky: Sky) -> float:
        """Return the light of half the sky, the sun off to one side, in lux."""
        return float(
            open_shade_lux(
                altitude_deg=moment.altitude_deg,
                sky=sky,
                day_of_year=self.day_of_year(moment),
                relative_azimuth_deg=SIDE_ON_DEG,
            )
        )

    def _facing_lux(self, moment: Moment, sky: Sky, facing_deg: float) -> float:
        return float(
            vertical_lux(
                altitude_deg=moment.altitude_deg,
                sky=sky,
                day_of_year=self.day_of_year(moment),
                relative_azimuth_deg=turn_deg(moment.azimuth_deg, facing_deg),
                ground_reflectance=self.where.ground_reflectance,
            )
        )

    def level_of(self, lux: float, moment: Moment, sky: Sky) -> Level:
        """Return some lux as a level, with the bounds of the sky's model."""
        low, high = tolerance_stops(altitude_deg=moment.altitude_deg, sky=sky)
        return Level(
            lux=lux, exposure_value=self._ev(lux), low_stops=low, high_stops=high
        )

    def _ev(self, lux: float) -> float:
        ev = exposure_value_from_lux(lux)
        if ev is None:
            raise ValueError(f"{lux} lx has no exposure value")
        return ev

    def day_of_year(self, moment: Moment) -> int:
        """Return the day of the year by the clock of the place."""
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
