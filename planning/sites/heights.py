"""A skyline under many azimuths at once, for searches over weeks and years."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from planning.light.moments import FloatArray
from planning.sites.points import Profile
from planning.sites.skyline import JUDGED_ERROR_DEG, MARK_REACH_DEG, Horizon, Stretch


def ridge_heights(
    horizon: Horizon, azimuths_deg: FloatArray
) -> tuple[FloatArray, FloatArray]:
    """Return how high the skyline stands, and by how much that may be wrong.

    Shape: that of the azimuths. Units: degrees; both are 0 under a free horizon. The
    same rules as `Horizon.at`, of which this is the many-at-once form.
    """
    points = horizon.leafy_line()
    stands, line = _standing(horizon, azimuths_deg), _line(points, azimuths_deg)
    heights = np.maximum(stands, line)
    errors = np.where(heights > 0.0, JUDGED_ERROR_DEG * horizon.estimated, 0.0)
    errors[(line > stands) & _between_measured(points, azimuths_deg)] = 0.0
    if horizon.marks:
        nearest, away = _nearest(horizon.marks, azimuths_deg)
        near = away <= MARK_REACH_DEG
        heights[near], errors[near] = nearest[near], 0.0
    return heights, errors


def _standing(horizon: Horizon, azimuths_deg: FloatArray) -> FloatArray:
    """Return the height of the highest stretch, corrected by what was seen of it."""
    highest = np.full(azimuths_deg.shape, -1.0)
    stands = np.zeros(azimuths_deg.shape)
    for stretch in horizon.leafy():
        within = (azimuths_deg - stretch.from_deg) % 360.0 <= stretch.width_deg
        within &= stretch.height_deg > highest
        highest[within] = stretch.height_deg
        stands[within] = _corrected(stretch, horizon.marks, azimuths_deg[within])
    return stands


def _corrected(
    stretch: Stretch, marks: Profile, azimuths_deg: FloatArray
) -> FloatArray | float:
    along = tuple(one for one in marks if stretch.spans(one.azimuth_deg))
    return _nearest(along, azimuths_deg)[0] if along else stretch.height_deg


def _between_measured(points: Profile, azimuths_deg: FloatArray) -> NDArray[np.bool_]:
    """Say where the line passes between two points that were both measured."""
    between = np.zeros(azimuths_deg.shape, dtype=np.bool_)
    taken = np.zeros(azimuths_deg.shape, dtype=np.bool_)
    for one, two in pairwise(points):
        within = (azimuths_deg >= one.azimuth_deg) & (azimuths_deg <= two.azimuth_deg)
        between |= within & ~taken & (one.measured and two.measured)
        taken |= within
    return between


def _line(points: Profile, azimuths_deg: FloatArray) -> FloatArray:
    if len(points) < 2:
        return np.zeros(azimuths_deg.shape)
    line: FloatArray = np.interp(
        azimuths_deg,
        [one.azimuth_deg for one in points],
        [one.height_deg for one in points],
        left=0.0,
        right=0.0,
    )
    return line


def _nearest(marks: Profile, azimuths_deg: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Return the height of the nearest mark, and how far away it stands."""
    nearest = np.zeros(azimuths_deg.shape)
    least = np.full(azimuths_deg.shape, np.inf)
    for mark in marks:
        away = np.abs((mark.azimuth_deg - azimuths_deg + 180.0) % 360.0 - 180.0)
        closer = away < least
        nearest[closer], least[closer] = mark.height_deg, away[closer]
    return nearest, least
