"""Where the sun and the moon stand, as polynomials between nodes from ephem.

The slow part of a body's place, seen from the Earth's centre in a frame that turns
once per mean solar day, is so smooth that nodes days apart carry it. In that frame
the axes are: x towards the meridian that has mean midnight, z towards the pole.
"""

from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache
from math import cos, pi, sin

import ephem
import numpy as np
import numpy.typing as npt

from planning.light.moments import FloatArray

TURN = 2.0 * pi
SUN_STEP_DAYS = 8.0
MOON_STEP_DAYS = 1.0
NODES = 8
EARTH_RADII_PER_AU = 149_597_870.7 / 6378.1366
_SIDEREAL_TURN = 1.002_737_909_35 * TURN  # a day's turn of the Earth
_DUBLIN_DAYS = 25_567.5  # from ephem's epoch, 1899-12-31 12:00, to 1970-01-01 00:00
# Seconds that terrestrial time is ahead of universal time on 1 January of every fifth
# year: observed by the IERS up to 2025; from there the forecast of Morrison,
# Stephenson, Hohenkerk & Zawilski 2021. ephem's own runs 37 s too far by 2050.
_DELTA_T_FROM_DAY, _DELTA_T_STEP_DAYS = -7305.0, 1826.25
_DELTA_T_S = [
    *(28.93, 30.41, 33.07, 35.09, 39.93, 45.48, 50.54, 54.34, 56.86, 60.79, 63.83),
    *(64.69, 66.07, 67.64, 69.36, 69.14, 69.08, 69.26, 69.72, 70.45, 71.44, 72.70),
]

Node = tuple[float, float, float]
Counts = npt.NDArray[np.int64]


@dataclass(frozen=True, slots=True, kw_only=True)
class Track:
    """A body's place over some days: one polynomial of degree 7 a piece and axis.

    Piece `n` holds for `step_days` from day `n * step_days`; only the pieces that were
    asked for exist. `columns[n - first_piece]` is the piece's place in `coefficients`,
    which has the shape (8, 3, pieces), lowest power first.
    """

    step_days: float
    first_piece: int
    columns: Counts
    coefficients: FloatArray

    def place(self, days: FloatArray) -> FloatArray:
        """Return the place at days since 1970 UTC, shape (3, *days.shape)."""
        pieces = days / self.step_days
        whole = np.floor(pieces)
        along = pieces - whole
        which = np.take(self.columns, whole.astype(np.int64) - self.first_piece)
        result: FloatArray = np.take(self.coefficients[-1], which, axis=1)
        for power in range(NODES - 2, -1, -1):
            result *= along
            result += np.take(self.coefficients[power], which, axis=1)
        return result


def sun_track(days: FloatArray) -> Track:
    """Return the sun's direction, a unit vector, for the pieces that hold `days`.

    Units: days since 1970-01-01 UTC, taken as UT1. Error: 0.5" against ephem.
    Source: ephem's apparent place of date and sidereal time, every eight days.
    """
    return _track(_sun_node, SUN_STEP_DAYS, days)


def moon_track(days: FloatArray) -> Track:
    """Return the moon's place in Earth radii, for the pieces that hold `days`.

    Units: days since 1970-01-01 UTC, taken as UT1. Error: 0.3" against ephem.
    Source: ephem's apparent place of date and sidereal time, once a day.
    """
    return _track(_moon_node, MOON_STEP_DAYS, days)


def _track(node: Callable[[int], Node], step_days: float, days: FloatArray) -> Track:
    numbers = np.floor(days / step_days).astype(np.int64).reshape(-1)
    first = int(numbers.min())
    held = np.bincount(numbers - first) > 0
    windows = (np.nonzero(held)[0] + first)[:, np.newaxis] + _OFFSETS
    needed = np.unique(windows)
    nodes = np.array([node(number) for number in needed.tolist()])
    values = nodes[np.searchsorted(needed, windows)]
    powers = np.tensordot(_TO_POWERS, values, axes=(1, 1))
    return Track(
        step_days=step_days,
        first_piece=first,
        columns=np.cumsum(held) - 1,
        coefficients=np.ascontiguousarray(powers.transpose(0, 2, 1)),
    )


_OFFSETS = np.arange(1 - NODES // 2, NODES // 2 + 1)
_TO_POWERS = np.linalg.inv(np.vander(_OFFSETS.astype(np.float64), increasing=True))


@lru_cache(maxsize=4096)
def _sun_node(index: int) -> Node:
    x, y, z, _distance = _apparent_place(ephem.Sun(), index * SUN_STEP_DAYS)
    return x, y, z


@lru_cache(maxsize=8192)
def _moon_node(index: int) -> Node:
    x, y, z, distance_au = _apparent_place(ephem.Moon(), index * MOON_STEP_DAYS)
    radii = distance_au * EARTH_RADII_PER_AU
    return x * radii, y * radii, z * radii


def _apparent_place(body: ephem.Body, day: float) -> tuple[float, float, float, float]:
    ahead = _delta_t_correction_days(day)
    date = day + ahead + _DUBLIN_DAYS
    greenwich = ephem.Observer()
    greenwich.pressure = 0.0
    greenwich.date = date  # the body's own, so that ephem works out nutation once
    body.compute(date)
    sidereal = float(greenwich.sidereal_time()) - ahead * _SIDEREAL_TURN
    eastward = float(body.g_ra) - sidereal + TURN * (day % 1.0)
    declination = float(body.g_dec)
    x = cos(declination) * cos(eastward)
    y = cos(declination) * sin(eastward)
    return x, y, sin(declination), float(body.earth_distance)


def _delta_t_correction_days(day: float) -> float:
    before, along = divmod((day - _DELTA_T_FROM_DAY) / _DELTA_T_STEP_DAYS, 1.0)
    if not 0.0 <= before < len(_DELTA_T_S) - 1.0:
        return 0.0
    earlier, later = _DELTA_T_S[int(before)], _DELTA_T_S[int(before) + 1]
    better = earlier + (later - earlier) * along
    return (better - float(ephem.delta_t(day + _DUBLIN_DAYS))) / 86_400.0
