"""How much light falls on the ground, on a subject and in the shade, by day and night.

One continuous curve from full night to noon. From 10 degrees of sun up it is the IES
model of 1984; from 5 down the polynomial of the Explanatory Supplement; between them
straight in log2. `tolerance_stops` says how far to trust it.
"""

from typing import overload

import numpy as np

from planning.light.daylight import Light, read
from planning.light.moments import FloatArray
from planning.light.skies import Sky, shade_lux, wall_lux
from planning.light.tolerance import tolerance_stops
from planning.light.twilight import LOWEST_DEG, moon_log2_lux
from planning.light.values import (
    Days,
    Number,
    checked_altitude,
    checked_day,
    checked_reflectance,
    cosine,
    like_inputs,
    within,
)

__all__ = [
    "Sky",
    "direct_normal_lux",
    "horizontal_lux",
    "moon_lux",
    "open_shade_lux",
    "tolerance_stops",
    "vertical_lux",
]


@overload
def horizontal_lux(*, altitude_deg: float, sky: Sky, day_of_year: int) -> float: ...
@overload
def horizontal_lux(
    *, altitude_deg: FloatArray, sky: Sky, day_of_year: Days
) -> FloatArray: ...
def horizontal_lux(*, altitude_deg: Number, sky: Sky, day_of_year: Days) -> Number:
    """Return the light of sun and sky on level ground.

    Shape: floats give a float, arrays an array (they broadcast). Units: degrees of true
    altitude, days from 1; lux. Not under 0.0005 lx, the light of a moonless night.
    Errors: ValueError outside -90 to 90 degrees or 1 to 366 days.
    Source: IES 1984 with Kasten & Young 1989; Explanatory Supplement (1992) p. 491;
    a heavy overcast 1.7 stops under overcast after USNO Circular 171.
    """
    altitude, day = checked_altitude(altitude_deg), checked_day(day_of_year)
    return like_inputs(read(_ground, sky, altitude, day), altitude_deg, day_of_year)


@overload
def direct_normal_lux(*, altitude_deg: float, sky: Sky, day_of_year: int) -> float: ...
@overload
def direct_normal_lux(
    *, altitude_deg: FloatArray, sky: Sky, day_of_year: Days
) -> FloatArray: ...
def direct_normal_lux(*, altitude_deg: Number, sky: Sky, day_of_year: Days) -> Number:
    """Return the light of the sun alone on a plane that faces it.

    Shape: floats give a float, arrays an array (they broadcast). Units: degrees of true
    altitude, days from 1; lux. It fades with the part of the disc above the horizon,
    to nothing at -0.8333 degrees; under overcast skies it is nothing.
    Errors: ValueError outside -90 to 90 degrees or 1 to 366 days.
    Source: IES 1984 with the air mass of Kasten & Young 1989.
    """
    altitude, day = checked_altitude(altitude_deg), checked_day(day_of_year)
    return like_inputs(read(_beam, sky, altitude, day), altitude_deg, day_of_year)


@overload
def vertical_lux(
    *,
    altitude_deg: float,
    sky: Sky,
    day_of_year: int,
    relative_azimuth_deg: float,
    ground_reflectance: float,
) -> float: ...
@overload
def vertical_lux(
    *,
    altitude_deg: FloatArray,
    sky: Sky,
    day_of_year: Days,
    relative_azimuth_deg: Number,
    ground_reflectance: Number,
) -> FloatArray: ...
def vertical_lux(
    *,
    altitude_deg: Number,
    sky: Sky,
    day_of_year: Days,
    relative_azimuth_deg: Number,
    ground_reflectance: Number,
) -> Number:
    """Return the light of sun, sky and ground on an upright plane, such as a face.

    Shape: floats give a float, arrays an array (they broadcast). Units: degrees of true
    altitude; degrees between the sun's azimuth and the way the plane faces; lux.
    In twilight the plane gets half the light of level ground plus the ground's share,
    whatever way it faces: one stop either way. A flat plane: a rounded face reads
    between the planes it is made of.
    Errors: ValueError for an altitude, day or reflectance out of range.
    Source: IES 1984; below 10 degrees its split at 10, blended into the half.
    """
    altitude, day = checked_altitude(altitude_deg), checked_day(day_of_year)
    cos_azimuth = cosine(relative_azimuth_deg)
    reflectance = checked_reflectance(ground_reflectance)
    lux = read(_upright, sky, altitude, day, cos_azimuth, reflectance)
    inputs = (altitude_deg, day_of_year, relative_azimuth_deg, ground_reflectance)
    return like_inputs(lux, *inputs)


@overload
def open_shade_lux(
    *, altitude_deg: float, sky: Sky, day_of_year: int, relative_azimuth_deg: float
) -> float: ...
@overload
def open_shade_lux(
    *,
    altitude_deg: FloatArray,
    sky: Sky,
    day_of_year: Days,
    relative_azimuth_deg: Number,
) -> FloatArray: ...
def open_shade_lux(
    *, altitude_deg: Number, sky: Sky, day_of_year: Days, relative_azimuth_deg: Number
) -> Number:
    """Return the light of half the sky on level ground: open shade beside a wall.

    Shape: floats give a float, arrays an array (they broadcast). Units: degrees of true
    altitude; degrees between the sun's azimuth and the open half of the sky; lux.
    In twilight it is half the light of open ground.
    Errors: ValueError for an altitude or day out of range.
    Source: IES 1984; below 10 degrees its split at 10, blended into the half.
    """
    altitude, day = checked_altitude(altitude_deg), checked_day(day_of_year)
    cos_azimuth = cosine(relative_azimuth_deg)
    lux = read(_shade, sky, altitude, day, cos_azimuth)
    return like_inputs(lux, altitude_deg, day_of_year, relative_azimuth_deg)


@overload
def moon_lux(
    *,
    altitude_deg: float,
    phase_angle_deg: float,
    horizontal_parallax_deg: float = 0.951,
) -> float: ...
@overload
def moon_lux(
    *,
    altitude_deg: FloatArray,
    phase_angle_deg: Number,
    horizontal_parallax_deg: Number = 0.951,
) -> FloatArray: ...
def moon_lux(
    *,
    altitude_deg: Number,
    phase_angle_deg: Number,
    horizontal_parallax_deg: Number = 0.951,
) -> Number:
    """Return the light of the moon alone on level ground under a clear sky.

    Shape: floats give a float, arrays an array (they broadcast). Units: degrees of true
    altitude, of phase angle (0 at full moon) and of horizontal parallax; lux.
    Errors: ValueError outside -90 to 90, 0 to 180 and 0.5 to 1.5 degrees.
    Error: half a stop, more in haze.
    Source: Explanatory Supplement to the Astronomical Almanac (2013), p. 518.
    """
    altitude = np.maximum(checked_altitude(altitude_deg), LOWEST_DEG)
    phase = within(phase_angle_deg, 0.0, 180.0, "phase angle")
    parallax = within(horizontal_parallax_deg, 0.5, 1.5, "horizontal parallax")
    dimmed = np.log2(10.0) * (-0.00868 * phase - 2.2e-9 * phase**4)
    lux = np.exp2(moon_log2_lux(altitude) + dimmed) * (parallax / 0.951) ** 2
    return like_inputs(lux, altitude_deg, phase_angle_deg, horizontal_parallax_deg)


def _ground(light: Light) -> FloatArray:
    return light.ground


def _beam(light: Light) -> FloatArray:
    return light.beam


def _upright(
    light: Light, cos_azimuth: FloatArray, reflectance: FloatArray
) -> FloatArray:
    lux = light.diffuse * light.share(cos_azimuth, wall_lux)
    lux += light.beam * light.sun.cosine * np.maximum(cos_azimuth, 0.0)
    lux += light.ground * (0.5 * reflectance)
    return lux


def _shade(light: Light, cos_azimuth: FloatArray) -> FloatArray:
    return light.diffuse * light.share(cos_azimuth, shade_lux)
