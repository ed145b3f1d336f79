"""Four skies: the daylight that each gives to the ground, to walls and in the shade.

The formulas are used from 10 degrees of sun up; lux; arrays in and out.
Source: IES, Recommended practice for the calculation of daylight availability,
J. IES 13(4) 381-392 (1984), with the air mass of Kasten & Young 1989.
"""

from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from planning.light.moments import FloatArray

HEAVY_STOPS = 1.7  # Circular 171's divisors: 10 for dark stratus against 3


class Sky(StrEnum):
    """How much cloud there is: 0-3 tenths, 4-7, 8-10, and dark stratus."""

    CLEAR = "clear"
    PARTLY_CLOUDY = "partly_cloudy"
    OVERCAST = "overcast"
    HEAVY_OVERCAST = "heavy_overcast"


@dataclass(frozen=True, slots=True, kw_only=True)
class Dome:
    """The constants of one sky.

    `extinction` per air mass, None where no sun comes through; `base_lux`, `rise_lux`
    and `rise_power` of the sky's light on the ground; `scale` on all of it.
    """

    extinction: float | None
    base_lux: float
    rise_lux: float
    rise_power: float
    scale: float = 1.0

    def ground_lux(self, sine: FloatArray) -> FloatArray:
        """Return the sky's light on the ground by the sine of the sun's altitude."""
        rise = np.sqrt(sine) if self.rise_power == 0.5 else sine
        lux: FloatArray = (self.base_lux + self.rise_lux * rise) * self.scale
        return lux


DOMES = {
    Sky.CLEAR: Dome(extinction=0.21, base_lux=800.0, rise_lux=15_500.0, rise_power=0.5),
    Sky.PARTLY_CLOUDY: Dome(
        extinction=0.80, base_lux=300.0, rise_lux=45_000.0, rise_power=1.0
    ),
    Sky.OVERCAST: Dome(
        extinction=None, base_lux=300.0, rise_lux=21_000.0, rise_power=1.0
    ),
    Sky.HEAVY_OVERCAST: Dome(
        extinction=None,
        base_lux=300.0,
        rise_lux=21_000.0,
        rise_power=1.0,
        scale=2.0**-HEAVY_STOPS,
    ),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Height:
    """The sun's altitude in radians, with its sine and cosine."""

    altitude: FloatArray
    sine: FloatArray
    cosine: FloatArray


def height(altitude_deg: FloatArray) -> Height:
    """Return an altitude in degrees as what the formulas take."""
    altitude = np.radians(altitude_deg)
    return Height(altitude=altitude, sine=np.sin(altitude), cosine=np.cos(altitude))


def wall_lux(sun: Height, sky: Sky, cos_azimuth: FloatArray) -> FloatArray:
    """Return the sky's light on a wall by the azimuth between it and the sun."""
    if sky is Sky.CLEAR:
        spread = (2.0 + cos_azimuth) / (3.0 - cos_azimuth)
        low = 12_000.0 * sun.sine**0.3 * sun.cosine**1.3
        return np.asarray((4_000.0 * sun.altitude**1.3 + low) * spread)
    if sky is Sky.PARTLY_CLOUDY:
        spread = (1.0 + cos_azimuth) / (3.0 - cos_azimuth)
        low = 30_200.0 * sun.sine**0.8 * sun.cosine
        return np.asarray((12_000.0 * sun.altitude + low) * spread)
    return np.asarray(8_500.0 * DOMES[sky].scale * sun.sine)


def shade_lux(sun: Height, sky: Sky, cos_azimuth: FloatArray) -> FloatArray:
    """Return the light of half the sky on the ground, by the azimuth of that half."""
    if sky is Sky.CLEAR:
        towards = 6_900.0 * sun.sine * sun.cosine * cos_azimuth
        return np.asarray(8_200.0 * np.sqrt(sun.sine) + towards)
    if sky is Sky.PARTLY_CLOUDY:
        towards = 14_100.0 * sun.sine**1.3 * sun.cosine * cos_azimuth
        return np.asarray(22_700.0 * sun.sine + towards)
    return np.asarray(10_700.0 * DOMES[sky].scale * sun.sine)
