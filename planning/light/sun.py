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
from planning.light.nodes import NODES, SUN_STEP_DAYS, TURN, Track, sun_track

SUN_PARALLAX_RAD = radians(8.794 / 3600.0)
_PIECE_US = int(SUN_STEP_DAYS * DAY_US)
_BLOCK_SAMPLES = 8_192  # fits the processor's cache, and keeps BLAS on one thread
_LEAST_EVEN = 1000
_MOST_PER_PIECE = 8640  # one a minute

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
    track = sun_track(instants_us / DAY_US)
    for start in range(0, instants_us.size, _BLOCK_SAMPLES):
        block = slice(start, start + _BLOCK_SAMPLES)
        horizon.fill(rows[:, block], *horizon.direction(track, instants_us[block]))


def _even_step_us(instants_us: Microseconds) -> int:
    """Return the step of moments that repeat in every piece of the track, else 0."""
    if instants_us.size < _LEAST_EVEN:
        return 0
    step_us = int(instants_us[1] - instants_us[0])
    if step_us <= 0 or _PIECE_US % step_us or _PIECE_US // step_us > _MOST_PER_PIECE:
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
    bases = horizon.bases(along)
    size = rows.shape[1]
    pieces = ceil((skipped + size) / per_piece)
    numbers = np.arange(pieces) + first_us // _PIECE_US
    track = sun_track(numbers * SUN_STEP_DAYS)
    weights = track.coefficients.transpose(2, 1, 0).reshape(pieces, 3 * NODES)
    at_once = max(1, _BLOCK_SAMPLES // per_piece)
    for piece in range(0, pieces, at_once):
        block = weights[piece : piece + at_once]
        start = piece * per_piece - skipped
        stop = min(start + block.shape[0] * per_piece, size)
        kept = slice(max(-start, 0), stop - start)
        up, south, west = (block @ bases).reshape(3, -1)[:, kept]
        horizon.fill(rows[:, max(start, 0) : stop], up, south, west)


class _Horizon:
    """The frame of one place: how directions in space read there."""

    def __init__(self, latitude_deg: float, longitude_deg: float) -> None:
        self.sin_latitude = sin(radians(latitude_deg))
        self.cos_latitude = cos(radians(latitude_deg))
        self.longitude_rad = radians(longitude_deg)

    def direction(
        self, track: Track, instants_us: Microseconds
    ) -> tuple[FloatArray, FloatArray, FloatArray]:
        """Return the sun's direction at any moments: parts up, south and west."""
        x, y, z = track.place(instants_us / DAY_US)
        turned = (instants_us % DAY_US) * (TURN / DAY_US) + self.longitude_rad
        cosine, sine = np.cos(turned), np.sin(turned)
        meridian = x * cosine + y * sine
        up = self.sin_latitude * z + self.cos_latitude * meridian
        south = self.sin_latitude * meridian - self.cos_latitude * z
        return up, south, x * sine - y * cosine

    def bases(self, along: FloatArray) -> FloatArray:
        """Return what gives parts up, south and west from a piece's coefficients.

        Shape: (samples,) in, (3, 3 * NODES, samples) out. Units: parts of a piece.
        """
        turned = (along * SUN_STEP_DAYS) % 1.0 * TURN + self.longitude_rad
        cosine, sine, one = np.cos(turned), np.sin(turned), np.ones_like(turned)
        sin_lat, cos_lat = self.sin_latitude, self.cos_latitude
        axes = np.array(
            [
                [cos_lat * cosine, cos_lat * sine, sin_lat * one],
                [sin_lat * cosine, sin_lat * sine, -cos_lat * one],
                [sine, -cosine, 0.0 * one],
            ]
        )
        powers = np.ascontiguousarray(np.vander(along, NODES, increasing=True).T)
        return (axes[:, :, np.newaxis] * powers).reshape(3, 3 * NODES, along.size)

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
