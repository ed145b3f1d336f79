"""What the air does to light on its way: how far it bends it, how much it takes."""

import numpy as np

from planning.light.moments import FloatArray

SUNSET_ALTITUDE_DEG = -0.8333


def refraction_deg(altitude_deg: FloatArray) -> FloatArray:
    """Return how far the air lifts a body that stands at a true altitude.

    Shape: array in, the same shape out. Units: degrees, for 1010 hPa and 10 degrees
    Celsius; nothing at or below -0.8333 degrees.
    Error: 0.07' against Bennett (1982) above the horizon.
    Source: Saemundsson (1986); Meeus, Astronomical Algorithms, 2nd ed., eq. 16.4.
    """
    height = np.maximum(altitude_deg, SUNSET_ALTITUDE_DEG)
    argument = 10.3 / (height + 5.11)
    argument += height
    argument *= np.pi / 180.0
    lift: FloatArray = np.divide(1.02 / 60.0, np.tan(argument, out=argument))
    np.copyto(lift, 0.0, where=altitude_deg <= SUNSET_ALTITUDE_DEG)
    return lift


def air_mass(altitude_deg: FloatArray) -> FloatArray:
    """Return the air a sunbeam passes, in vertical atmospheres.

    Shape: array in, the same shape out. Domain: altitudes from -6 to 90 degrees.
    Source: Kasten & Young 1989, Applied Optics 28(22) 4735.
    """
    low = 0.50572 * np.power(altitude_deg + 6.07995, -1.6364)
    mass: FloatArray = 1.0 / (np.sin(np.radians(altitude_deg)) + low)
    return mass
