"""Where the sun stands, for a moment or a year of them."""

from dataclasses import dataclass
from datetime import datetime
from math import ceil, cos, radians, sin
from typing import Generic, TypeVar, overload

import numpy as np

from planning.light.air import refraction_deg
from planning.light.moments import (
    DAY_US,
    FloatArray,
    Instants,
    Microseconds,
    check_place,
    microseconds,
)
from planning.light.nodes import NODES, SUN_STEP_DAYS, TURN, sun_track

SUN_PARALLAX_RAD = radians(8.794 / 3600.0)
_PIECE_US = int(SUN_STEP_DAYS * DAY_US)
_BLOCK_SAMPLES = 10_000  # fits the processor's cache, and keeps BLAS on one thread
_LEAST_EVEN = 1000

Angle = TypeVar("Angle")


@dataclass(frozen=True, slots=True, kw_only=True)
class SunPosition(Generic[Angle]):
    """The sun's place in the sky: floats for one moment, arrays for many.

    `altitude_deg` is without air, `apparent_altitude_deg` refracted for 1010 hPa and
    10 degrees Celsius, `azimuth_deg` from true north, clockwise, 0 up to 360.
    """

    altitude_deg: Angle
    apparent_altitude_deg: Angle
    azimuth_deg: Angle


@overload
def sun_position(
    *, latitude_deg: float, longitude_deg: float, at: datetime | np.datetime64
) -> SunPosition[float]: ...
@overload
def sun_position(
    *, latitude_deg: float, longitude_deg: float, at: Instants
) -> SunPosition[FloatArray]: ...
def sun_position(
    *,
    latitude_deg: float,
    longitude_deg: float,
    at: datetime | np.datetime64 | Instants,
) -> SunPosition[float] | SunPosition[FloatArray]:
    """Return where the sun stands in the sky of a place.

    Shape: an aware datetime gives floats, an array of datetime64 (read as UTC) arrays
    of its shape. Units: degrees; latitude north, longitude east. UTC is taken as UT1.
    Error: 0.002 degrees of altitude, and of azimuth times the cosine of the altitude,
    against a full ephemeris from 1950 to 2050; checked to 0.0005.
    Errors: ValueError for a place off the Earth, a naive datetime, NaT.
    Source: ephem's apparent place, exact spherical trigonometry, parallax 8.794".
    """
    check_place(latitude_deg, longitude_deg)
    instants_us = microseconds(at)
    flat = instants_us.reshape(-1)
    rows = np.empty((3, flat.size))
    if flat.size:
        _fill(rows, flat, latitude_deg, longitude_deg)
    altitude, apparent, azimuth = rows.reshape(3, *instants_us.shape)
    if not instants_us.shape and not isinstance(at, np.ndarray):
        return SunPosition(
            altitude_deg=float(altitude),
            apparent_altitude_deg=float(apparent),
            azimuth_deg=float(azimuth),
        )
    return SunPosition(
        altitude_deg=altitude, apparent_altitude_deg=apparent, azimuth_deg=azimuth
    )


def _fill(
    rows: FloatArray,
    instants_us: Microseconds,
    latitude_deg: float,
    longitude_deg: float,
) -> None:
    horizon = _Horizon(latitude_deg, longitude_deg)
    step_us = _even_step_us(instants_us)
    if step_us:
        _fill_even(rows, int(instants_us[0]), step_us, horizon)
        return
    days = instants_us / DAY_US
    track = sun_track(days)
    for start in range(0, days.size, _BLOCK_SAMPLES):
        block = slice(start, start + _BLOCK_SAMPLES)
        meridian = horizon.turned(days[block])
        parts = horizon.parts(track.place(days[block]), *meridian)
        horizon.fill(rows[:, block], *parts)


def _even_step_us(instants_us: Microseconds) -> int:
    """Return the step of moments that repeat in every piece of the track, else 0."""
    if instants_us.size < _LEAST_EVEN:
        return 0
    step_us = int(instants_us[1] - instants_us[0])
    if step_us <= 0 or _PIECE_US % step_us or _PIECE_US // step_us > _BLOCK_SAMPLES:
        return 0
    blocks = range(0, instants_us.size - 1, _BLOCK_SAMPLES)
    even = all(
        bool((np.diff(instants_us[at : at + _BLOCK_SAMPLES + 1]) == step_us).all())
        for at in blocks
    )
    return step_us if even else 0


def _fill_even(
    rows: FloatArray, first_us: int, step_us: int, horizon: "_Horizon"
) -> None:
    """Compute evenly spaced moments: each piece meets the same turns of the Earth."""
    per_piece = _PIECE_US // step_us
    skipped, phase_us = divmod(first_us % _PIECE_US, step_us)
    along = (np.arange(per_piece) * step_us + phase_us) / _PIECE_US
    powers = np.ascontiguousarray(np.vander(along, NODES, increasing=True).T)
    cosine, sine = horizon.turned(along * SUN_STEP_DAYS)
    size = rows.shape[1]
    pieces = ceil((skipped + size) / per_piece)
    numbers = np.arange(pieces) + first_us // _PIECE_US
    weights = sun_track(numbers * SUN_STEP_DAYS).coefficients.transpose(1, 2, 0)
    at_once = _BLOCK_SAMPLES // per_piece
    for piece in range(0, pieces, at_once):
        block = weights[:, piece : piece + at_once]
        place = block.reshape(-1, NODES) @ powers
        parts = horizon.parts(place.reshape(3, -1, per_piece), cosine, sine)
        start = piece * per_piece - skipped
        stop = min(start + block.shape[1] * per_piece, size)
        kept = slice(max(-start, 0), stop - start)
        up, south, west = (part.reshape(-1)[kept] for part in parts)
        horizon.fill(rows[:, max(start, 0) : stop], up, south, west)


class _Horizon:
    """The frame of one place: how directions in space read there."""

    def __init__(self, latitude_deg: float, longitude_deg: float) -> None:
        self.sin_latitude = sin(radians(latitude_deg))
        self.cos_latitude = cos(radians(latitude_deg))
        self.longitude_rad = radians(longitude_deg)

    def turned(self, days: FloatArray) -> tuple[FloatArray, FloatArray]:
        """Return the cosine and sine of the angle of the meridian at some moments."""
        angle = days % 1.0 * TURN + self.longitude_rad
        return np.cos(angle), np.sin(angle)

    def parts(
        self, place: FloatArray, cosine: FloatArray, sine: FloatArray
    ) -> tuple[FloatArray, FloatArray, FloatArray]:
        """Return a direction in space as parts up, south and west."""
        x, y, z = place
        outward = x * cosine
        outward += y * sine
        west = x * sine
        west -= y * cosine
        up = self.sin_latitude * z
        up += self.cos_latitude * outward
        outward *= self.sin_latitude
        outward -= self.cos_latitude * z
        return up, outward, west

    def fill(
        self, rows: FloatArray, up: FloatArray, south: FloatArray, west: FloatArray
    ) -> None:
        """Write altitude, apparent altitude and azimuth in degrees; overwrites `up`."""
        altitude, apparent, azimuth = rows
        up += SUN_PARALLAX_RAD * (up * up - 1.0)
        np.clip(up, -1.0, 1.0, out=up)
        np.arcsin(up, out=altitude)
        altitude *= 180.0 / np.pi
        np.add(altitude, refraction_deg(altitude), out=apparent)
        np.arctan2(west, south, out=azimuth)
        azimuth *= 180.0 / np.pi
        azimuth += 180.0
        azimuth[azimuth >= 360.0] = 0.0
