"""Sun and sky from full night to noon, as one continuous curve for every sky.

Three parts: day from 10 degrees of sun up, low sun down to sunset, and the dark below.
Arrays in and out: altitudes in degrees (true), days of the year as floats, lux.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np

from planning.light.air import SUNSET_ALTITUDE_DEG, air_mass
from planning.light.moments import FloatArray
from planning.light.skies import DOMES, Height, Sky, height
from planning.light.twilight import LOWEST_DEG, NIGHT_FLOOR_LUX, sun_log2_lux

SkyLight: TypeAlias = Callable[[Height, Sky, FloatArray], FloatArray]
Reading: TypeAlias = Callable[..., FloatArray]

DAY_DEG = 10.0
LOW_DEG = 5.0
_SUN_RADIUS_DEG = 0.2667
_SOLAR_LUX = 127_500.0
_LEAST_SHARE = 0.001  # IES leaves a wall turned from the sun under broken cloud at 0
_BLOCK_SAMPLES = 8_192
_TEN = height(np.array(DAY_DEG))
_FIVE_LOG2 = sun_log2_lux(np.array(LOW_DEG))


@dataclass(frozen=True, slots=True, kw_only=True)
class Light:
    """What falls at some moments: all on level ground, the sun's beam, the sky alone.

    `smooth` is how far the sky's split between planes is that of the day: 1 from 10
    degrees of sun up, 0 from sunset down, where every plane gets half.
    """

    sky: Sky
    sun: Height
    ground: FloatArray
    beam: FloatArray
    diffuse: FloatArray
    smooth: FloatArray | None

    def share(self, cos_azimuth: FloatArray, light: SkyLight) -> FloatArray:
        """Return a plane's light from the sky over that of level ground."""
        sun = self.sun if self.smooth is None else _TEN
        level = DOMES[self.sky].ground_lux(sun.sine)
        share = np.maximum(light(sun, self.sky, cos_azimuth) / level, _LEAST_SHARE)
        if self.smooth is None:
            return share
        return np.asarray(0.5 * np.exp2(self.smooth * np.log2(2.0 * share)))


def read(
    reading: Reading, sky: Sky, altitude: FloatArray, day: FloatArray, *more: FloatArray
) -> FloatArray:
    """Return what `reading` makes of the light, and of what else it takes, in lux.

    Shape: all broadcast. The moments are taken in blocks, day, low sun and dark apart.
    """
    sky = Sky(sky)  # a plain string would miss every branch
    shape = np.broadcast_shapes(altitude.shape, day.shape, *(one.shape for one in more))
    altitude = np.broadcast_to(altitude, shape).reshape(-1)
    others = [
        one if one.ndim == 0 else np.broadcast_to(one, shape).reshape(-1)
        for one in (day, *more)
    ]
    lux = np.empty(altitude.shape)
    for start in range(0, altitude.size, _BLOCK_SAMPLES):
        block = slice(start, start + _BLOCK_SAMPLES)
        given = [one if one.ndim == 0 else one[block] for one in others]
        _read_block(lux[block], reading, sky, altitude[block], given)
    return lux.reshape(shape)


def _read_block(
    lux: FloatArray,
    reading: Reading,
    sky: Sky,
    altitude: FloatArray,
    others: list[FloatArray],
) -> None:
    high, dark = altitude >= DAY_DEG, altitude <= SUNSET_ALTITUDE_DEG
    parts = ((high, _day_light), (~(high | dark), _low_light), (dark, _dark_light))
    for part, shine in parts:
        which = np.nonzero(part)[0]
        if which.size:
            day, *more = [one if one.ndim == 0 else one[which] for one in others]
            lux[which] = reading(shine(altitude[which], sky, day), *more)


def _day_light(altitude: FloatArray, sky: Sky, day: FloatArray) -> Light:
    sun = height(altitude)
    beam = _beam_lux(altitude, sky, day)
    diffuse = DOMES[sky].ground_lux(sun.sine)
    ground = beam * sun.sine + diffuse
    return Light(
        sky=sky, sun=sun, ground=ground, beam=beam, diffuse=diffuse, smooth=None
    )


def _low_light(altitude: FloatArray, sky: Sky, day: FloatArray) -> Light:
    sun = height(altitude)
    beam = _beam_lux(altitude, sky, day) * _disc_share(altitude)
    at_ten = np.log2(_day_ground_at_ten(Sky.CLEAR, day))
    twilight = sun_log2_lux(np.minimum(altitude, LOW_DEG))
    rise = np.maximum(altitude - LOW_DEG, 0.0) * (at_ten - _FIVE_LOG2) / LOW_DEG
    ground = np.exp2(twilight + rise) * _against_clear(sky, day)
    up = (altitude - SUNSET_ALTITUDE_DEG) / (DAY_DEG - SUNSET_ALTITUDE_DEG)
    return Light(
        sky=sky,
        sun=sun,
        ground=ground,
        beam=beam,
        diffuse=ground - beam * np.maximum(sun.sine, 0.0),
        smooth=up * up * (3.0 - 2.0 * up),
    )


def _dark_light(altitude: FloatArray, sky: Sky, day: FloatArray) -> Light:
    sun = height(altitude)
    clear = np.exp2(sun_log2_lux(np.maximum(altitude, LOWEST_DEG)))
    ground = np.maximum(clear * _against_clear(sky, day), NIGHT_FLOOR_LUX)
    none = np.zeros_like(altitude)
    return Light(
        sky=sky, sun=sun, ground=ground, beam=none, diffuse=ground, smooth=none
    )


def _against_clear(sky: Sky, day: FloatArray) -> FloatArray:
    """Return the light under a sky over that under a clear one, at 10 degrees."""
    if sky is Sky.CLEAR:
        return np.ones(())
    ratio = _day_ground_at_ten(sky, day) / _day_ground_at_ten(Sky.CLEAR, day)
    return np.asarray(ratio)


def _day_ground_at_ten(sky: Sky, day: FloatArray) -> FloatArray:
    beam = _beam_lux(np.array(DAY_DEG), sky, day)
    return np.asarray(beam * _TEN.sine + DOMES[sky].ground_lux(_TEN.sine))


def _beam_lux(altitude: FloatArray, sky: Sky, day: FloatArray) -> FloatArray:
    """Return the whole sun's light on a plane that faces it."""
    extinction = DOMES[sky].extinction
    if extinction is None:
        return np.zeros(np.broadcast_shapes(altitude.shape, day.shape))
    solar = _SOLAR_LUX * (1.0 + 0.034 * np.cos(2.0 * np.pi * (day - 2.0) / 365.0))
    return np.asarray(solar * np.exp(-extinction * air_mass(altitude)))


def _disc_share(altitude: FloatArray) -> FloatArray:
    """Return the part of the sun's disc above a level horizon, with 34' refraction."""
    lifted = altitude - SUNSET_ALTITUDE_DEG - _SUN_RADIUS_DEG
    level = np.clip(lifted / _SUN_RADIUS_DEG, -1.0, 1.0)
    segment = np.arccos(-level) + level * np.sqrt(1.0 - level * level)
    return np.asarray(segment / np.pi)
