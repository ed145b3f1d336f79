"""Sun and sky from full night to noon, as one continuous curve for every sky.

Arrays in and out: altitudes in degrees (true), days of the year as floats, lux.
"""

from collections.abc import Callable
from typing import TypeAlias

import numpy as np

from planning.light.air import SUNSET_ALTITUDE_DEG, air_mass
from planning.light.moments import FloatArray
from planning.light.skies import DOMES, Sky
from planning.light.twilight import LOWEST_DEG, NIGHT_FLOOR_LUX, sun_log2_lux

SkyLight: TypeAlias = Callable[[FloatArray, Sky, FloatArray], FloatArray]

DAY_DEG = 10.0
LOW_DEG = 5.0
_SUN_RADIUS_DEG = 0.2667
_SOLAR_LUX = 127_500.0
_LEAST_SHARE = 0.001  # IES leaves a wall turned from the sun under broken cloud at 0


def ground_lux(altitude: FloatArray, sky: Sky, day: FloatArray) -> FloatArray:
    """Return the light of sun and sky on level ground, at any altitude."""
    high = _day_ground(np.maximum(altitude, DAY_DEG), sky, day)
    low = np.exp2(_low_log2(np.minimum(altitude, DAY_DEG), sky, day))
    low = np.maximum(low, NIGHT_FLOOR_LUX)
    return np.where(altitude >= DAY_DEG, high, low)


def _day_ground(altitude: FloatArray, sky: Sky, day: FloatArray) -> FloatArray:
    sine = np.sin(np.radians(altitude))
    return beam_lux(altitude, sky, day) * sine + DOMES[sky].ground_lux(sine)


def _low_log2(altitude: FloatArray, sky: Sky, day: FloatArray) -> FloatArray:
    """Return log2 of the light on the ground up to 10 degrees of sun."""
    ten = np.array(DAY_DEG)
    at_ten = np.log2(_day_ground(ten, Sky.CLEAR, day))
    at_five = sun_log2_lux(np.array(LOW_DEG))
    twilight = sun_log2_lux(np.clip(altitude, LOWEST_DEG, LOW_DEG))
    rise = np.maximum(altitude - LOW_DEG, 0.0) * (at_ten - at_five) / LOW_DEG
    against_clear = np.log2(_day_ground(ten, sky, day)) - at_ten
    return np.asarray(twilight + rise + against_clear)


def beam_lux(altitude: FloatArray, sky: Sky, day: FloatArray) -> FloatArray:
    """Return the sun's light on a plane that faces it."""
    extinction = DOMES[sky].extinction
    if extinction is None:
        return np.zeros(np.broadcast_shapes(altitude.shape, day.shape))
    solar = _SOLAR_LUX * (1.0 + 0.034 * np.cos(2.0 * np.pi * (day - 2.0) / 365.0))
    risen = np.maximum(altitude, SUNSET_ALTITUDE_DEG)
    through = np.exp(-extinction * air_mass(risen))
    return np.asarray(solar * through * _disc_share(risen))


def _disc_share(altitude: FloatArray) -> FloatArray:
    """Return the part of the sun's disc above a level horizon, with 34' refraction."""
    lifted = altitude - SUNSET_ALTITUDE_DEG - _SUN_RADIUS_DEG
    height = np.clip(lifted / _SUN_RADIUS_DEG, -1.0, 1.0)
    segment = np.arccos(-height) + height * np.sqrt(1.0 - height * height)
    return np.asarray(segment / np.pi)


def sky_share(
    altitude: FloatArray, sky: Sky, cos_azimuth: FloatArray, light: SkyLight
) -> FloatArray:
    """Return a plane's light from the sky over that of level ground.

    From 10 degrees up it is what IES gives; at sunset and below it is one half.
    """
    day = np.radians(np.maximum(altitude, DAY_DEG))
    share = light(day, sky, cos_azimuth) / DOMES[sky].ground_lux(np.sin(day))
    share = np.log2(np.maximum(share, _LEAST_SHARE))
    sunset = SUNSET_ALTITUDE_DEG
    up = np.clip((altitude - sunset) / (DAY_DEG - sunset), 0.0, 1.0)
    smooth = up * up * (3.0 - 2.0 * up)
    return np.asarray(np.exp2(smooth * share - (1.0 - smooth)))
