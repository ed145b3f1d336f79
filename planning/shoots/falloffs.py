"""How evenly a group is lit from its nearest to its farthest sitter, and what helps."""

from __future__ import annotations

from dataclasses import replace
from math import log2
from typing import Final

from planning.light.falloff import evening_distance_m, group_falloff_stops
from planning.light.illuminance import Sky
from planning.light.solve import FlashPurpose
from planning.shoots.choices import FlashMode, Light
from planning.shoots.daylight import Daylight, Moment
from planning.shoots.evenness import EVEN_STOPS, GroupFalloff
from planning.shoots.lighting import first_flash
from planning.shoots.models import SetUp
from planning.shoots.rooms import falloff_stops, room_level
from planning.sites.models import Window

FARTHEST_M: Final = 30.0
_HALVINGS: Final = 12


def falloff_of(
    row: SetUp, moment: Moment, light: Daylight, sky: Sky
) -> GroupFalloff | None:
    """Return how a group's light falls off; None for one sitter, and for sun and sky.

    A bounced flash is left out: what it is thrown at lights them, as large as it is.
    """
    if row.people < 2 or row.depth_m <= 0.0:
        return None
    flash = first_flash(row)
    if flash is not None and flash.purpose is FlashPurpose.KEY:
        return None if row.flash_mode == FlashMode.BOUNCE else _by_flash(row)
    if row.light == Light.WINDOW and row.window is not None:
        return _by_window(row, row.window, moment, light, sky)
    return None


def _by_flash(row: SetUp) -> GroupFalloff | None:
    depth, bearing = row.depth_m, row.flash_bearing_deg
    if row.flash_distance_m <= depth / 2.0:
        return None
    stops = abs(
        group_falloff_stops(
            distance_m=row.flash_distance_m, depth_m=depth, bearing_deg=bearing
        )
    )
    found = GroupFalloff(stops=stops, by_window=False)
    away = evening_distance_m(depth_m=depth, stops=EVEN_STOPS, bearing_deg=bearing)
    if found.is_even or away is None:
        return found
    costs = 2.0 * log2(away / row.flash_distance_m)
    return replace(found, remedy_m=away, costs_stops=costs)


def _by_window(
    row: SetUp, window: Window, moment: Moment, light: Daylight, sky: Sky
) -> GroupFalloff:
    """Return the fall-off from a window; the remedy by halving between distances."""

    def stops_at(metres: float) -> float:
        return abs(falloff_stops(_moved(row, metres), window, moment, light, sky))

    def lux_at(metres: float) -> float:
        return room_level(_moved(row, metres), window, moment, light, sky).lux

    found = GroupFalloff(stops=stops_at(row.window_distance_m), by_window=True)
    if found.is_even or stops_at(FARTHEST_M) > EVEN_STOPS:
        return found
    near, far = row.window_distance_m, FARTHEST_M
    for _ in range(_HALVINGS):
        middle = (near + far) / 2.0
        near, far = (middle, far) if stops_at(middle) > EVEN_STOPS else (near, middle)
    costs = log2(lux_at(row.window_distance_m) / lux_at(far))
    return replace(found, remedy_m=far, costs_stops=costs)


def _moved(row: SetUp, metres: float) -> SetUp:
    """Return the sitters of a set-up so far from its window."""
    return SetUp(
        window_distance_m=metres,
        window_offset_m=row.window_offset_m,
        depth_m=row.depth_m,
        camera_heading_deg=row.camera_heading_deg,
        facing_deg=row.facing_deg,
    )
