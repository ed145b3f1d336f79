"""How much light falls on the ground, on a subject and in the shade, by day and night.

One continuous curve from full night to noon. From 10 degrees of sun up it is the IES
model of 1984; from 5 down the polynomial of the Explanatory Supplement; between them
straight in log2. `tolerance_stops` says how far to trust it.
"""

from typing import TypeAlias, overload

import numpy as np
import numpy.typing as npt

from planning.light.air import SUNSET_ALTITUDE_DEG
from planning.light.daylight import DAY_DEG, LOW_DEG, Light, read
from planning.light.moments import FloatArray
from planning.light.skies import Sky, shade_lux, wall_lux
from planning.light.twilight import LOWEST_DEG, moon_log2_lux

__all__ = [
    "Sky",
    "direct_normal_lux",
    "horizontal_lux",
    "moon_lux",
    "open_shade_lux",
    "tolerance_stops",
    "vertical_lux",
]

Days: TypeAlias = int | npt.NDArray[np.int64]
Number: TypeAlias = float | FloatArray

_SLACK = 1e-9  # steps such as 0.01 do not add up to a round number


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
    altitude, day = _altitude(altitude_deg), _day(day_of_year)
    return _shaped(read(_ground, sky, altitude, day), altitude_deg, day_of_year)


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
    altitude, day = _altitude(altitude_deg), _day(day_of_year)
    return _shaped(read(_beam, sky, altitude, day), altitude_deg, day_of_year)


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
    altitude, day = _altitude(altitude_deg), _day(day_of_year)
    cos_azimuth = _cosine(relative_azimuth_deg)
    reflectance = _reflectance(ground_reflectance)
    lux = read(_upright, sky, altitude, day, cos_azimuth, reflectance)
    inputs = (altitude_deg, day_of_year, relative_azimuth_deg, ground_reflectance)
    return _shaped(lux, *inputs)


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
    altitude, day = _altitude(altitude_deg), _day(day_of_year)
    cos_azimuth = _cosine(relative_azimuth_deg)
    lux = read(_shade, sky, altitude, day, cos_azimuth)
    return _shaped(lux, altitude_deg, day_of_year, relative_azimuth_deg)


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
    altitude = np.maximum(_altitude(altitude_deg), LOWEST_DEG)
    phase = _within(phase_angle_deg, 0.0, 180.0, "phase angle")
    parallax = _within(horizontal_parallax_deg, 0.5, 1.5, "horizontal parallax")
    dimmed = np.log2(10.0) * (-0.00868 * phase - 2.2e-9 * phase**4)
    lux = np.exp2(moon_log2_lux(altitude) + dimmed) * (parallax / 0.951) ** 2
    return _shaped(lux, altitude_deg, phase_angle_deg, horizontal_parallax_deg)


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
    altitude = _altitude(altitude_deg)
    band = np.searchsorted(_TOLERANCE_EDGES_DEG, altitude, side="right")
    clear = sky is Sky.CLEAR
    low = (_CLEAR_STOPS if clear else _CLOUD_DARKER_STOPS)[band]
    high = (_CLEAR_STOPS if clear else _CLOUD_BRIGHTER_STOPS)[band]
    if isinstance(altitude_deg, np.ndarray):
        return low, high
    return float(low), float(high)


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


def _altitude(altitude_deg: Number) -> FloatArray:
    return _within(altitude_deg, -90.0, 90.0, "altitude")


def _day(day_of_year: Days) -> FloatArray:
    return _within(day_of_year, 1.0, 366.0, "day of the year")


def _reflectance(ground_reflectance: Number) -> FloatArray:
    return _within(ground_reflectance, 0.0, 1.0, "ground reflectance")


def _cosine(relative_azimuth_deg: Number) -> FloatArray:
    azimuth = _within(relative_azimuth_deg, -720.0, 720.0, "relative azimuth")
    return np.asarray(np.cos(np.radians(azimuth)))


def _within(value: Number | Days, low: float, high: float, name: str) -> FloatArray:
    values = np.asarray(value, dtype=np.float64)
    within = (values >= low - _SLACK) & (values <= high + _SLACK)
    if not within.all():
        wrong = values[~within].flat[0]
        raise ValueError(f"{name} {wrong} is outside {low:g} to {high:g}")
    return np.clip(values, low, high)


def _shaped(lux: FloatArray, *inputs: Number | Days) -> Number:
    if any(isinstance(given, np.ndarray) for given in inputs):
        return lux
    return float(lux)
