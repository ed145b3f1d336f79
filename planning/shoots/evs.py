"""Light through some hours as EV: each sky's for all moments at once.

The models of light cost about as much for a whole day as for one moment.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from planning.light.exposure import exposure_value_from_lux
from planning.light.illuminance import Sky, open_shade_lux, vertical_lux
from planning.light.moments import FloatArray
from planning.shoots.daylight import SIDE_ON_DEG, Daylight, Moment


def sun_evs(light: Daylight, moments: Sequence[Moment], sky: Sky) -> list[float]:
    """Return the EV at each moment on a face turned to the sun, skyline or not."""
    return _upright(light, moments, sky, turned_deg=0.0)


def cloud_evs(light: Daylight, moments: Sequence[Moment], sky: Sky) -> list[float]:
    """Return the EV at each moment on an upright face, under a closed sky."""
    return _upright(light, moments, sky, turned_deg=SIDE_ON_DEG)


def shade_evs(light: Daylight, moments: Sequence[Moment], sky: Sky) -> list[float]:
    """Return the EV at each moment in open shade, under half the sky."""
    luxes = open_shade_lux(
        altitude_deg=_altitudes(moments),
        sky=sky,
        day_of_year=np.array([light.day_of_year(one) for one in moments], np.int64),
        relative_azimuth_deg=SIDE_ON_DEG,
    )
    return _evs(luxes)


def _upright(
    light: Daylight, moments: Sequence[Moment], sky: Sky, *, turned_deg: float
) -> list[float]:
    luxes = vertical_lux(
        altitude_deg=_altitudes(moments),
        sky=sky,
        day_of_year=np.array([light.day_of_year(one) for one in moments], np.int64),
        relative_azimuth_deg=turned_deg,
        ground_reflectance=light.where.ground_reflectance,
    )
    return _evs(luxes)


def _altitudes(moments: Sequence[Moment]) -> FloatArray:
    return np.array([one.altitude_deg for one in moments], np.float64)


def _evs(luxes: FloatArray) -> list[float]:
    evs = [exposure_value_from_lux(lux) for lux in luxes.tolist()]
    return [ev for ev in evs if ev is not None]  # no night is quite dark
