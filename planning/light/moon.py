"""Where the moon stands and how much of it is lit, for the light of the night."""

from dataclasses import dataclass
from datetime import datetime
from math import cos, hypot, radians, sin
from typing import Generic, TypeVar, overload

import numpy as np

from planning.light.moments import (
    DAY_US,
    FloatArray,
    Instants,
    check_place,
    microseconds,
)
from planning.light.nodes import EARTH_RADII_PER_AU, TURN, moon_track, sun_track

FLATTENING = 1.0 / 298.257223563  # WGS 84

Angle = TypeVar("Angle")


@dataclass(frozen=True, slots=True, kw_only=True)
class MoonPosition(Generic[Angle]):
    """The moon's place in the sky: floats for one moment, arrays for many.

    `altitude_deg` of the centre without air, seen from the ground; `azimuth_deg` from
    true north, clockwise; `phase_angle_deg` 0 at full moon, 180 at new moon;
    `horizontal_parallax_deg` the Earth's radius as seen from the moon.
    """

    altitude_deg: Angle
    azimuth_deg: Angle
    phase_angle_deg: Angle
    horizontal_parallax_deg: Angle


@overload
def moon_position(
    *, latitude_deg: float, longitude_deg: float, at: datetime | np.datetime64
) -> MoonPosition[float]: ...
@overload
def moon_position(
    *, latitude_deg: float, longitude_deg: float, at: Instants
) -> MoonPosition[FloatArray]: ...
def moon_position(
    *,
    latitude_deg: float,
    longitude_deg: float,
    at: datetime | np.datetime64 | Instants,
) -> MoonPosition[float] | MoonPosition[FloatArray]:
    """Return where the moon stands in the sky of a place, and its phase.

    Shape: an aware datetime gives floats, an array of datetime64 (read as UTC) arrays
    of its shape. Units: degrees; latitude north, longitude east. UTC is taken as UT1.
    Error: 0.002 degrees against a full ephemeris from 1950 to 2050.
    Errors: ValueError for a place off the Earth, a naive datetime, NaT.
    Source: ephem's apparent place; parallax on the WGS 84 ellipsoid.
    """
    check_place(latitude_deg, longitude_deg)
    days = microseconds(at) / DAY_US
    flat = np.atleast_1d(days).reshape(-1)
    values = np.empty((4, flat.size))
    if flat.size:
        up, north, east, _distance = moon_vectors(flat, latitude_deg, longitude_deg)
        values[0] = np.degrees(np.arcsin(up))
        values[1] = np.degrees(np.arctan2(east, north)) % 360.0
        values[2:] = np.degrees(moon_phase(flat))
    altitude, azimuth, phase, parallax = values.reshape(4, *np.shape(days))
    if isinstance(at, np.ndarray):
        return MoonPosition(
            altitude_deg=altitude,
            azimuth_deg=azimuth,
            phase_angle_deg=phase,
            horizontal_parallax_deg=parallax,
        )
    return MoonPosition(
        altitude_deg=float(altitude),
        azimuth_deg=float(azimuth),
        phase_angle_deg=float(phase),
        horizontal_parallax_deg=float(parallax),
    )


def moon_vectors(
    days: FloatArray, latitude_deg: float, longitude_deg: float
) -> tuple[FloatArray, FloatArray, FloatArray, FloatArray]:
    """Return the moon seen from a place: parts up, north and east, and its distance.

    Shape: one dimension in, four arrays of its shape out. Units: days since 1970 UTC;
    the parts of a unit vector; Earth radii.
    """
    x, y, z = moon_track(days).place(days)
    turned = days % 1.0 * TURN + radians(longitude_deg)
    cosine, sine = np.cos(turned), np.sin(turned)
    sin_latitude, cos_latitude = sin(radians(latitude_deg)), cos(radians(latitude_deg))
    squash = 1.0 - FLATTENING
    normal = 1.0 / hypot(cos_latitude, squash * sin_latitude)
    outward = x * cosine + y * sine - normal * cos_latitude
    poleward = z - normal * squash**2 * sin_latitude
    east = y * cosine - x * sine
    up = sin_latitude * poleward + cos_latitude * outward
    north = cos_latitude * poleward - sin_latitude * outward
    distance = np.sqrt(up * up + north * north + east * east)
    return up / distance, north / distance, east / distance, distance


def moon_phase(days: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Return the moon's phase angle and horizontal parallax, both in radians.

    Shape: one dimension in, two arrays of its shape out. Units: days since 1970 UTC.
    Error: 0.01 degrees, as the sun's distance is taken as its mean.
    """
    moon = moon_track(days).place(days)
    sun = sun_track(days).place(days)
    to_sun = sun * EARTH_RADII_PER_AU - moon
    distance = np.sqrt((moon * moon).sum(axis=0))
    sunward = np.sqrt((to_sun * to_sun).sum(axis=0))
    cosine = -(moon * to_sun).sum(axis=0) / (distance * sunward)
    return np.arccos(np.clip(cosine, -1.0, 1.0)), np.arcsin(1.0 / distance)
