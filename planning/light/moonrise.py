"""When the moon rises and sets, over any number of days."""

from math import ceil, radians

import numpy as np

from planning.light.moments import FloatArray
from planning.light.moon import moon_vectors

_REFRACTION_RAD = radians(34.0 / 60.0)
_MOON_EARTH_RADII = 1737.4 / 6378.1366
_SAMPLES_PER_DAY = 72
_STEPS = 40
_CLOSE_RAD = 1e-10


def moon_crossings(
    *, latitude_deg: float, longitude_deg: float, first_day: float, last_day: float
) -> tuple[FloatArray, FloatArray]:
    """Return the moonrises and the moonsets between two moments, each in order.

    The moon's upper limb on the horizon, with 34' of refraction.
    Units: days since 1970-01-01 UTC. Error: 1 s where the moon's altitude moves by more
    than 3 degrees an hour, 10 s where it grazes the horizon.
    """
    count = ceil((last_day - first_day) * _SAMPLES_PER_DAY) + 1
    moments = np.linspace(first_day, last_day, count)
    place = (latitude_deg, longitude_deg)
    heights = _height(moments, *place)
    moments, heights = _with_turning_points(moments, heights, place)
    above = heights >= 0.0
    before = np.nonzero(above[1:] != above[:-1])[0]
    if not before.size:
        return moments[:0], moments[:0]
    roots = _solve(moments, heights, before, place)
    rising = above[before + 1]
    return roots[rising], roots[~rising]


def _height(days: FloatArray, latitude_deg: float, longitude_deg: float) -> FloatArray:
    """Return how far, in radians, the upper limb stands above the horizon."""
    up, _north, _east, distance = moon_vectors(days, latitude_deg, longitude_deg)
    limb = np.arcsin(up) + _MOON_EARTH_RADII / distance
    return np.asarray(limb + _REFRACTION_RAD)


def _with_turning_points(
    moments: FloatArray, heights: FloatArray, place: tuple[float, float]
) -> tuple[FloatArray, FloatArray]:
    """Add the tops and dips between samples that may just reach the horizon."""
    left, middle, right = heights[:-2], heights[1:-1], heights[2:]
    bend = left - 2.0 * middle + right
    turns = (middle - left) * (right - middle) <= 0.0
    which = np.nonzero(turns & (np.abs(middle) < np.abs(bend)) & (bend != 0.0))[0]
    if not which.size:
        return moments, heights
    shift = 0.5 * (left - right)[which] / bend[which]
    extra = moments[which + 1] + shift * (moments[1] - moments[0])
    moments = np.concatenate([moments, extra])
    heights = np.concatenate([heights, _height(extra, *place)])
    order = np.argsort(moments, kind="stable")
    return moments[order], heights[order]


def _solve(
    moments: FloatArray,
    heights: FloatArray,
    before: np.ndarray[tuple[int], np.dtype[np.intp]],
    place: tuple[float, float],
) -> FloatArray:
    """Return the roots after the samples `before`, by the Illinois rule."""
    old, new = moments[before], moments[before + 1]
    old_height, new_height = heights[before], heights[before + 1]
    for _ in range(_STEPS):
        gap = new_height - old_height
        following = new - new_height * (new - old) / np.where(gap == 0.0, 1.0, gap)
        following_height = _height(following, *place)
        crossed = following_height * new_height < 0.0
        old = np.where(crossed, new, old)
        old_height = np.where(crossed, new_height, 0.5 * old_height)
        new, new_height = following, following_height
        if bool((np.abs(new_height) < _CLOSE_RAD).all()):
            break
    return new
