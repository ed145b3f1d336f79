"""How far the light that is computed may be from the light that there is."""

from typing import overload

import numpy as np

from planning.light.air import SUNSET_ALTITUDE_DEG
from planning.light.daylight import DAY_DEG, LOW_DEG
from planning.light.moments import FloatArray
from planning.light.skies import Sky
from planning.light.values import Number, checked_altitude

_TOLERANCE_EDGES_DEG = np.array([-8.0, SUNSET_ALTITUDE_DEG, LOW_DEG, DAY_DEG])
_CLEAR_STOPS = np.array([1.0, 0.5, 1.0, 0.5, 1.0 / 3.0])
_CLOUD_DARKER_STOPS = np.array([2.0, 1.5, 1.0, 1.0, 1.0])
_CLOUD_BRIGHTER_STOPS = np.array([1.0, 1.0, 1.0, 1.0, 1.0])


@overload
def tolerance_stops(*, altitude_deg: float, sky: Sky) -> tuple[float, float]: ...
@overload
def tolerance_stops(
    *, altitude_deg: FloatArray, sky: Sky
) -> tuple[FloatArray, FloatArray]: ...
def tolerance_stops(
    *, altitude_deg: Number, sky: Sky
) -> tuple[float, float] | tuple[FloatArray, FloatArray]:
    """Return how many stops darker and how many brighter the real light may be.

    Shape: a float gives floats, an array arrays of its shape. Units: stops, both as
    positive numbers. Clear: 1/3 from 10 degrees of sun, 1/2 from 5, 1 down to sunset,
    1/2 down to -8 degrees, 1 below. Cloud: 1 each way; in twilight up to 2 darker.
    Source: the spread of five daylight models, for twilight and cloud a judgement.
    """
    altitude = checked_altitude(altitude_deg)
    band = np.searchsorted(_TOLERANCE_EDGES_DEG, altitude, side="right")
    clear = Sky(sky) is Sky.CLEAR
    low = (_CLEAR_STOPS if clear else _CLOUD_DARKER_STOPS)[band]
    high = (_CLEAR_STOPS if clear else _CLOUD_BRIGHTER_STOPS)[band]
    if isinstance(altitude_deg, np.ndarray):
        return low, high
    return float(low), float(high)
