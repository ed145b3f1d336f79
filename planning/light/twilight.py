"""The light of a low or sunken sun, and of the moon, from a clear sky."""

import numpy as np

from planning.light.moments import FloatArray

NIGHT_FLOOR_LUX = 0.0005
LOWEST_DEG = -20.0  # the polynomial is under the night floor from -18.5 degrees down
_LOG2_10 = np.log2(10.0)

_SUN_EDGES_DEG = np.array([-12.0, -5.0, -0.8, 5.0, 20.0])
_SUN = _LOG2_10 * np.array(
    [
        [13.84, 262.72, 1447.42, 2797.93],
        [2.70, 12.17, -431.69, -1899.83],
        [2.88, 21.81, -258.11, -858.36],
        [2.88, 22.26, -207.64, 1034.30],
        [3.05, 13.28, -45.98, 64.33],
        [3.74, 3.97, -4.07, 1.47],
    ]
)
_MOON_EDGES_DEG = np.array([5.0, 20.0])
_MOON_RISEN_DEG = -0.8
_MOON = _LOG2_10 * np.array(
    [
        [-2.79, 24.27, -252.95, 1321.29],
        [-2.58, 12.58, -42.58, 59.06],
        [-1.95, 4.06, -4.24, 1.56],
    ]
)


def sun_log2_lux(altitude_deg: FloatArray) -> FloatArray:
    """Return log2 of the lux on the ground under a clear sky.

    Shape: array in, the same shape out. Units: degrees of true altitude, -20 to 90;
    the part for -18 to -12 is carried on below -18.
    Error: half a stop down to -8 degrees, one below; steps at the joints to 0.03 stop.
    Source: Explanatory Supplement to the Astronomical Almanac (1992), p. 491.
    """
    return _cubics(altitude_deg, _SUN_EDGES_DEG, _SUN)


def moon_log2_lux(altitude_deg: FloatArray) -> FloatArray:
    """Return log2 of the lux of a full moon on the ground under a clear sky.

    Shape: array in, the same shape out. Units: degrees of true altitude, -20 to 90.
    Below -0.8 degrees, where the source ends, the moon's light is taken to fade as the
    sun's does. Error: half a stop.
    Source: Explanatory Supplement to the Astronomical Almanac (2013), p. 518.
    """
    risen = np.maximum(altitude_deg, _MOON_RISEN_DEG)
    sunken = np.minimum(altitude_deg, _MOON_RISEN_DEG)
    fade = sun_log2_lux(sunken) - sun_log2_lux(np.array(_MOON_RISEN_DEG))
    return _cubics(risen, _MOON_EDGES_DEG, _MOON) + fade


def _cubics(
    altitude_deg: FloatArray, edges: FloatArray, table: FloatArray
) -> FloatArray:
    which = np.searchsorted(edges, altitude_deg, side="right")
    along = altitude_deg / 90.0
    result: FloatArray = table[:, 3][which]
    for power in (2, 1, 0):
        result = result * along + table[:, power][which]
    return result
