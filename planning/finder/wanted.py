"""At which minutes a place has the light that is wanted, one condition at a time."""

from __future__ import annotations

from collections.abc import Iterator
from enum import Enum
from itertools import groupby

import numpy as np
import numpy.typing as npt

from planning.finder.grid import Grid, Minutes, SunTrack, date_of
from planning.finder.wishes import DAY_MIN, QUARTER_DEG, Kind, Opening, Side, Wish
from planning.light.moments import FloatArray
from planning.shoots.daylight import Where
from planning.sites.heights import ridge_heights
from planning.sites.skyline import Horizon

Mask = npt.NDArray[np.bool_]


class Hurdle(Enum):
    """What the light of a minute has to pass, in order."""

    HEIGHT = "the sun stands at the height"
    REACH = "the sun reaches the sitter, or does not, as wanted"
    SIDE = "the light stands on the side wanted"


def hurdles(
    wish: Wish, where: Where, grid: Grid, sun: SunTrack
) -> Iterator[tuple[Hurdle, Mask]]:
    """Give the minutes that pass each hurdle and those before it.

    A skyline judged by eye counts with its whole error against the wish: sun only where
    the sun surely clears it, shade only where it surely does not. Bare trees let the
    sun through. Windows know what stands opposite them, not the skyline outdoors.
    """
    low, high = wish.band
    passed = (sun.altitude_deg >= low) & (sun.altitude_deg <= high)
    yield Hurdle.HEIGHT, passed
    if wish.kind is not Kind.TWILIGHT:
        at = np.flatnonzero(passed)
        passed = np.zeros(grid.size, dtype=np.bool_)
        passed[at[_reached(wish, where, grid, sun, at)]] = True
    yield Hurdle.REACH, passed
    yield Hurdle.SIDE, passed & _on_side(wish, sun)


def horizon_on(where: Where, day: int) -> Horizon:
    """Return the skyline of a place as it stands on a day counted from 1970-01-01."""
    return Horizon(
        stretches=where.skyline,
        profile=where.profile,
        marks=where.marks,
        estimated=where.estimated,
        on=date_of(day),
    )


def falls_in(opening: Opening, altitudes: FloatArray, azimuths: FloatArray) -> Mask:
    """Say at which places of the sun it shines through a window, clouds apart."""
    aside = np.abs((azimuths - opening.facing_deg + 180.0) % 360.0 - 180.0)
    falls: Mask = (aside < 90.0) & (altitudes > opening.obstruction_deg)
    return falls


def _reached(wish: Wish, where: Where, grid: Grid, sun: SunTrack, at: Minutes) -> Mask:
    altitudes, azimuths = sun.altitude_deg[at], sun.azimuth_deg[at]
    if wish.opening is not None:
        falls = falls_in(wish.opening, altitudes, azimuths)
        return falls if wish.kind.is_sun else ~falls
    heights, errors = _skyline(where, grid.clock[at] // DAY_MIN, azimuths)
    if wish.kind.is_sun:
        clear: Mask = (heights == 0.0) | (altitudes > heights + errors)
        return clear
    shaded: Mask = altitudes < heights - errors
    return shaded


def _skyline(
    where: Where, days: Minutes, azimuths: FloatArray
) -> tuple[FloatArray, FloatArray]:
    """Return the skyline at some azimuths, each on a day, as trees have their leaves.

    `days` are in order.
    """
    heights, errors = np.zeros(azimuths.size), np.zeros(azimuths.size)
    held = np.unique(days).tolist()
    for _, same in groupby(held, key=lambda day: horizon_on(where, day).leafy()):
        alike = list(same)
        start = np.searchsorted(days, alike[0])
        part = slice(start, np.searchsorted(days, alike[-1], side="right"))
        horizon = horizon_on(where, alike[0])
        heights[part], errors[part] = ridge_heights(horizon, azimuths[part])
    return heights, errors


def _on_side(wish: Wish, sun: SunTrack) -> Mask | bool:
    """Say when the light stands on the wanted side; a sitter free to turn turns."""
    if wish.side is Side.ANY or wish.facing_deg is None:
        return True
    middle = wish.facing_deg + wish.side.turn_deg
    aside = np.abs((sun.azimuth_deg - middle + 180.0) % 360.0 - 180.0)
    near: Mask = aside <= QUARTER_DEG
    return near
