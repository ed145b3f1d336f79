"""Numbers and arrays as the light's functions take them and give them back."""

from typing import TypeAlias

import numpy as np
import numpy.typing as npt

from planning.light.moments import FloatArray

Days: TypeAlias = int | npt.NDArray[np.int64]
Number: TypeAlias = float | FloatArray

_SLACK = 1e-9  # steps such as 0.01 do not add up to a round number


def checked_altitude(altitude_deg: Number) -> FloatArray:
    """Return altitudes as an array; ValueError outside -90 to 90 degrees."""
    return within(altitude_deg, -90.0, 90.0, "altitude")


def checked_day(day_of_year: Days) -> FloatArray:
    """Return days of the year as an array; ValueError outside 1 to 366."""
    return within(day_of_year, 1.0, 366.0, "day of the year")


def checked_reflectance(ground_reflectance: Number) -> FloatArray:
    """Return reflectances as an array; ValueError outside 0 to 1."""
    return within(ground_reflectance, 0.0, 1.0, "ground reflectance")


def cosine(relative_azimuth_deg: Number) -> FloatArray:
    """Return cosines of azimuths; ValueError beyond two turns, or not a number."""
    azimuth = within(relative_azimuth_deg, -720.0, 720.0, "relative azimuth")
    return np.asarray(np.cos(np.radians(azimuth)))


def within(value: Number | Days, low: float, high: float, name: str) -> FloatArray:
    """Return values as an array; ValueError, with the first that is outside."""
    values = np.asarray(value, dtype=np.float64)
    inside = (values >= low - _SLACK) & (values <= high + _SLACK)
    if not inside.all():
        wrong = values[~inside].flat[0]
        raise ValueError(f"{name} {wrong} is outside {low:g} to {high:g}")
    return np.clip(values, low, high)


def like_inputs(lux: FloatArray, *inputs: Number | Days) -> Number:
    """Return an array where any input was one, else a float."""
    if any(isinstance(given, np.ndarray) for given in inputs):
        return lux
    return float(lux)
