"""The light of a room's windows on the sitters of a set-up."""

from __future__ import annotations

from dataclasses import replace
from math import atan2, cos, degrees, log2, radians, sin

from planning.light.illuminance import Sky
from planning.light.room import (
    Pane,
    Spot,
    Walls,
    clear_on_face_lux,
    overcast_on_face_lux,
    sun_share,
    walls_lux,
)
from planning.shoots.daylight import Daylight, Level, Moment
from planning.shoots.models import SetUp
from planning.sites.interiors import MEAN_REFLECTANCES, WallTone
from planning.sites.models import Window

CLOSED = {Sky.OVERCAST, Sky.HEAVY_OVERCAST}
CLOSEST_M = 0.2
ROOM_TOLERANCE_STOPS = 1.0
"""How far a room's light may be off before a reading was taken there."""


def room_level(
    row: SetUp, window: Window, moment: Moment, light: Daylight, sky: Sky
) -> Level:
    """Return the light on the middle of the sitters, from window, sun and walls."""
    lux = _face_lux(_spot(row), window, moment, light, sky)
    level = light.level_of(lux, moment, sky)
    return replace(
        level,
        low_stops=max(level.low_stops, ROOM_TOLERANCE_STOPS),
        high_stops=max(level.high_stops, ROOM_TOLERANCE_STOPS),
    )


def falloff_stops(
    row: SetUp, window: Window, moment: Moment, light: Daylight, sky: Sky
) -> float:
    """Return how much less light the back of a group gets than its front, in stops.

    The front is nearer to the camera; below 0 where the back is nearer to the window.
    """
    half = row.depth_m / 2.0
    turn = radians(window.facing_deg - row.camera_heading_deg)
    front, back = (
        _face_lux(
            _spot(row, away * cos(turn), away * sin(turn)), window, moment, light, sky
        )
        for away in (half, -half)
    )
    return log2(front / back)


def walls_share(
    row: SetUp, window: Window, moment: Moment, light: Daylight, sky: Sky
) -> float | None:
    """Return what the walls throw on the side away from the window, against its light.

    None where the window itself gives the sitters nothing.
    """
    direct = _direct_lux(_spot(row), window, moment, light, sky)
    if direct <= 0.0:
        return None
    return min(_walls_lux(window, light.sky_lux(moment, sky)) / direct, 1.0)


def window_sight(row: SetUp) -> tuple[float, float] | None:
    """Return the azimuth of a set-up's window from the sitters, and half its width.

    None where the window is not known.
    """
    if row.window is None:
        return None
    distance = max(row.window_distance_m, CLOSEST_M)
    aside = degrees(atan2(row.window_offset_m, distance))
    half = degrees(atan2(row.window.width_m / 2.0, distance))
    return (row.window.facing_deg - aside) % 360.0, half


def pane_of(window: Window) -> Pane:
    """Return a window as light sees it."""
    return Pane(
        width_m=window.width_m,
        height_m=window.height_m,
        sill_m=window.sill_m,
        facing_deg=window.facing_deg,
        transmittance=window.transmittance,
        obstruction_deg=window.obstruction_deg,
    )


def _spot(row: SetUp, away_m: float = 0.0, aside_m: float = 0.0) -> Spot:
    return Spot(
        distance_m=max(row.window_distance_m + away_m, CLOSEST_M),
        offset_m=row.window_offset_m + aside_m,
        facing_deg=row.sitters_face_deg,
    )


def _face_lux(
    spot: Spot, window: Window, moment: Moment, light: Daylight, sky: Sky
) -> float:
    walls = _walls_lux(window, light.sky_lux(moment, sky))
    return _direct_lux(spot, window, moment, light, sky) + walls


def _direct_lux(
    spot: Spot, window: Window, moment: Moment, light: Daylight, sky: Sky
) -> float:
    pane, outdoors = pane_of(window), light.sky_lux(moment, sky)
    if sky in CLOSED:
        lux = overcast_on_face_lux(pane, spot, outdoor_horizontal_lux=outdoors)
    else:
        on_glass = light.sky_on_wall_lux(moment, sky, window.facing_deg)
        lux = clear_on_face_lux(pane, spot, window_sky_lux=on_glass)
    if moment.is_shining and sky not in CLOSED:
        share = sun_share(
            pane,
            spot,
            altitude_deg=moment.altitude_deg,
            azimuth_deg=moment.azimuth_deg,
        )
        lux += share * light.sun_lux(moment, sky)
    return lux


def _walls_lux(window: Window, outdoors: float) -> float:
    room = window.room
    walls = Walls(
        surface_m2=room.surface_m2,
        mean_reflectance=MEAN_REFLECTANCES[WallTone(room.walls)],
    )
    return sum(
        walls_lux(pane_of(one), walls, outdoor_horizontal_lux=outdoors)
        for one in room.windows.all()
    )
