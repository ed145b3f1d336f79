"""When the sun stands in the south, and when it crosses an altitude.

Around each solar noon the sun's direction is a cubic in the frame that turns with the
mean sun; its altitude then has one highest and one lowest point half a turn apart, so
that between them a crossing exists or it does not, and cannot be missed.
"""

from dataclasses import dataclass
from math import cos, pi, radians, sin

import numpy as np
import numpy.typing as npt

from planning.light.moments import FloatArray
from planning.light.nodes import TURN, Track, sun_track
from planning.light.sun import SUN_PARALLAX_RAD

_KNOTS_DAYS = np.array([-0.5, -1.0 / 6.0, 1.0 / 6.0, 0.5])
_TO_CUBIC = np.linalg.inv(np.vander(_KNOTS_DAYS, increasing=True))
_CLOSE_DAYS = 2e-6  # Newton's next step is far shorter than the last
_ROUND = 2
_MOST_ROUNDS = 30


@dataclass(frozen=True, slots=True, kw_only=True)
class Crossings:
    """Solar noons, the sine of the sun's altitude then, the crossings around each.

    `noon` and `noon_sine` have the shape (days,), `upward` and `downward` (altitudes,
    days), NaN where there is none. Times are days since 1970-01-01 UTC.
    """

    noon: FloatArray
    noon_sine: FloatArray
    upward: FloatArray
    downward: FloatArray


def sun_crossings(
    *,
    latitude_deg: float,
    longitude_deg: float,
    near_days: FloatArray,
    altitudes_deg: FloatArray,
) -> Crossings:
    """Return the solar noon nearest to each moment and the crossings around it.

    Upward is the last crossing in the 12 h before noon, downward the first in the 12 h
    after. Units: days since 1970-01-01 UTC; degrees of the centre's airless altitude.
    Error: 0.2 s below 60 degrees of latitude, 10 s where the sun grazes the altitude.
    """
    track = sun_track(near_days + np.array([[-1.5], [0.0], [1.5]]))
    noon = _solar_noon(track, near_days, radians(longitude_deg))
    knots = track.place(noon + _KNOTS_DAYS[:, np.newaxis])
    path = _Path(
        cubic=np.tensordot(_TO_CUBIC, knots, axes=(1, 1)),
        turned=noon % 1.0 * TURN + radians(longitude_deg),
        sin_latitude=sin(radians(latitude_deg)),
        cos_latitude=cos(radians(latitude_deg)),
    )
    height = np.radians(altitudes_deg)[:, np.newaxis]
    # Parallax lowers the sun: from the Earth's centre it is seen so much higher.
    wanted = np.sin(height) + SUN_PARALLAX_RAD * np.cos(height) ** 2
    zero = np.zeros_like(noon)
    highest = path.turning_point(zero)
    rise_from, rise_to = path.turning_point(zero - 0.5), np.minimum(highest, zero)
    set_from, set_to = np.maximum(highest, zero), path.turning_point(zero + 0.5)
    upward = path.crossing(rise_from, rise_to, wanted, rising=True)
    downward = path.crossing(set_from, set_to, wanted, rising=False)
    return Crossings(
        noon=noon,
        noon_sine=path.sine(zero) - SUN_PARALLAX_RAD,
        upward=noon + upward,
        downward=noon + downward,
    )


def _solar_noon(track: Track, near: FloatArray, longitude_rad: float) -> FloatArray:
    noon = near.copy()
    for _ in range(3):
        x, y, _z = track.place(noon)
        turned = noon % 1.0 * TURN + longitude_rad
        cosine, sine = np.cos(turned), np.sin(turned)
        noon -= np.arctan2(x * sine - y * cosine, x * cosine + y * sine) / TURN
    return noon


@dataclass(frozen=True, slots=True, kw_only=True)
class _Path:
    """The sun around many noons; times are days from each noon.

    `cubic` has the shape (4, 3, noons): power, axis, noon. `turned` is the angle of the
    place's meridian at noon.
    """

    cubic: FloatArray
    turned: FloatArray
    sin_latitude: float
    cos_latitude: float

    def only(self, which: npt.NDArray[np.intp]) -> "_Path":
        return _Path(
            cubic=self.cubic[:, :, which],
            turned=self.turned[which],
            sin_latitude=self.sin_latitude,
            cos_latitude=self.cos_latitude,
        )

    def sine(self, time: FloatArray) -> FloatArray:
        """Return the sine of the altitude."""
        return self.sine_and_slope(time)[0]

    def sine_and_slope(self, time: FloatArray) -> tuple[FloatArray, FloatArray]:
        """Return the sine of the altitude and its change per day."""
        southward, westward, drift, poleward = self._parts(time)
        sine = self.sin_latitude * poleward + self.cos_latitude * southward
        return sine, drift - TURN * self.cos_latitude * westward

    def turning_point(self, near: FloatArray) -> FloatArray:
        """Return when the altitude turns, near noon (0) or midnight (-0.5, 0.5).

        Within 0.06 degrees of a pole it may only rise, or only fall, for a whole day;
        the points for noon and midnight then fall together.
        """
        time = near.copy()
        upper = np.cos(TURN * near)  # 1 at noon, -1 at midnight
        for _ in range(2):
            southward, westward, drift, _poleward = self._parts(time)
            radius = np.hypot(southward, westward)
            lean = drift / (TURN * self.cos_latitude * radius)
            lean = upper * np.arcsin(np.clip(lean, -1.0, 1.0))
            hour_angle = np.arctan2(westward, southward)
            ahead = TURN * near + lean - hour_angle
            time = time + ((ahead + pi) % TURN - pi) / TURN
        return np.clip(time, -0.5, 0.5)

    def crossing(
        self, start: FloatArray, stop: FloatArray, wanted: FloatArray, *, rising: bool
    ) -> FloatArray:
        """Return when the sine passes `wanted` between two times, NaN if it doesn't."""
        low, high = (start, stop) if rising else (stop, start)
        passes = (self.sine(low) < wanted) & (self.sine(high) >= wanted)
        rows, noons = np.nonzero(passes & (start < stop))
        result = np.full(passes.shape, np.nan)
        path = self.only(noons)
        first = path._first_guess(wanted[rows, 0], rising=rising)
        low, high = low[noons], high[noons]
        result[rows, noons] = path._solve(first, low, high, wanted[rows, 0])
        return result

    def _parts(
        self, time: FloatArray
    ) -> tuple[FloatArray, FloatArray, FloatArray, FloatArray]:
        """Return cos d cos H, cos d sin H, the slow part of the slope, and sin d."""
        one, two, three = self.cubic[1], self.cubic[2], self.cubic[3]
        x, y, z = self.cubic[0] + time * (one + time * (two + time * three))
        moved = one + time * (2.0 * two + time * (3.0 * three))
        turned = self.turned + TURN * time
        cosine, sine = np.cos(turned), np.sin(turned)
        drift = self.cos_latitude * (moved[0] * cosine + moved[1] * sine)
        drift += self.sin_latitude * moved[2]
        return x * cosine + y * sine, x * sine - y * cosine, drift, z

    def _first_guess(self, wanted: FloatArray, *, rising: bool) -> FloatArray:
        x, y, z = self.cubic[0]
        reach = self.cos_latitude * np.hypot(x, y)
        cosine = (wanted - self.sin_latitude * z) / reach
        away: FloatArray = np.arccos(np.clip(cosine, -1.0, 1.0)) / TURN
        return -away if rising else away

    def _solve(
        self, time: FloatArray, low: FloatArray, high: FloatArray, wanted: FloatArray
    ) -> FloatArray:
        """Return the root between `low` and `high` by Newton's steps, else halving."""
        low, high = low.copy(), high.copy()
        time = np.clip(time, np.minimum(low, high), np.maximum(low, high))
        for step_number in range(_ROUND * _MOST_ROUNDS):
            sine, slope = self.sine_and_slope(time)
            excess = sine - wanted
            low = np.where(excess <= 0.0, time, low)
            high = np.where(excess > 0.0, time, high)
            with np.errstate(divide="ignore", invalid="ignore"):
                newton = time - excess / slope
            inside = (newton - low) * (newton - high) <= 0.0
            following = np.where(inside, newton, 0.5 * (low + high))
            moved = np.abs(following - time) > _CLOSE_DAYS
            time = following
            if not moved.any():
                break
            if step_number % _ROUND == _ROUND - 1:
                left = np.nonzero(moved)[0]
                rest = self.only(left)
                time[left] = rest._solve(
                    time[left], low[left], high[left], wanted[left]
                )
                break
        return time
