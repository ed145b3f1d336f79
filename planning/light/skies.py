"""Four skies: the daylight that each gives to the ground, to walls and in the shade.

The formulas hold from 10 degrees of sun up; lux; altitudes and azimuths in radians.
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


def wall_lux(altitude: FloatArray, sky: Sky, cos_azimuth: FloatArray) -> FloatArray:
    """Return the sky's light on a wall by the azimuth between it and the sun."""
    sine, cosine = np.sin(altitude), np.cos(altitude)
    if sky is Sky.CLEAR:
        spread = (2.0 + cos_azimuth) / (3.0 - cos_azimuth)
        strength = 4_000.0 * altitude**1.3 + 12_000.0 * sine**0.3 * cosine**1.3
        return np.asarray(strength * spread)
    if sky is Sky.PARTLY_CLOUDY:
        spread = (1.0 + cos_azimuth) / (3.0 - cos_azimuth)
        strength = 12_000.0 * altitude + 30_200.0 * sine**0.8 * cosine
        return np.asarray(strength * spread)
    even = 8_500.0 * DOMES[sky].scale * sine
    return np.asarray(even + np.zeros_like(cos_azimuth))


def shade_lux(altitude: FloatArray, sky: Sky, cos_azimuth: FloatArray) -> FloatArray:
    """Return the light of half the sky on the ground, by the azimuth of that half."""
    sine, cosine = np.sin(altitude), np.cos(altitude)
    if sky is Sky.CLEAR:
        towards = 6_900.0 * sine * cosine * cos_azimuth
        return np.asarray(8_200.0 * np.sqrt(sine) + towards)
    if sky is Sky.PARTLY_CLOUDY:
        towards = 14_100.0 * sine**1.3 * cosine * cos_azimuth
        return np.asarray(22_700.0 * sine + towards)
    even = 10_700.0 * DOMES[sky].scale * sine
    return np.asarray(even + np.zeros_like(cos_azimuth))
