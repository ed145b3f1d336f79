"""Shutter times that hands, motion and the aim ask for."""

from dataclasses import dataclass
from math import ceil, floor, log2

from planning.light.motion import (
    ACCEPTABLE_BLUR_MM,
    CRITICAL_BLUR_MM,
    freezing_shutter_s,
    handheld_shutter_s,
)
from planning.light.optics import crop_factor
from planning.light.solve.requests import Aim, SetUpRequest, Support

# Common practice, no source:
HAND_CAP_S = 1.0 / 8.0  # whatever the stabiliser: sitters and hands sway
RATING_DISCOUNT_STOPS = 1.0  # a stabiliser's rating is a laboratory's
STREAK_OF_FRAME = 1.0 / 20.0  # of the short side: blur that reads as meant
LONGEST_STREAK_STOPS = 2.0  # beyond it the subject dissolves

_TINY = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class Times:
    """Shutter times that something asks for, in seconds; None: it asks for nothing.

    `hand_s`, `motion_s` and `critical_s` are the slowest allowed; a `streak_s` is the
    fastest that still blurs on purpose, `dissolve_s` the slowest that still shows
    somebody.
    """

    hand_s: float | None
    motion_s: float | None
    critical_s: float | None
    streak_s: float | None
    dissolve_s: float | None


def read_times(request: SetUpRequest) -> Times:
    """Return the shutter times that hands, motion and the aim ask for."""
    body, lens = request.body, request.lens
    crop = crop_factor(
        sensor_width_mm=body.sensor_width_mm, sensor_height_mm=body.sensor_height_mm
    )
    hand = None
    if request.support is Support.HANDHELD:
        trusted = max(lens.stabilisation_stops - RATING_DISCOUNT_STOPS, 0.0)
        steady = handheld_shutter_s(
            lens.focal_length_mm, crop_factor=crop, stabilisation_stops=trusted
        )
        hand = min(steady, HAND_CAP_S)
    aim = request.aim
    streak = None
    if aim is Aim.BLUR:
        short_side = min(body.sensor_width_mm, body.sensor_height_mm)
        streak = blur_time_s(request, blur_mm=STREAK_OF_FRAME * short_side)
    motion = blur_time_s(request, blur_mm=ACCEPTABLE_BLUR_MM / crop)
    critical = blur_time_s(request, blur_mm=CRITICAL_BLUR_MM / crop)
    return Times(
        hand_s=hand,
        motion_s=None if aim is Aim.BLUR else motion,
        critical_s=critical if aim is Aim.FREEZE else None,
        streak_s=streak,
        dissolve_s=streak * 2.0**LONGEST_STREAK_STOPS if streak else None,
    )


def blur_time_s(request: SetUpRequest, *, blur_mm: float) -> float | None:
    """Return how long the subject takes to cross that much of the sensor, or None."""
    subject = request.subject
    return freezing_shutter_s(
        speed_m_s=subject.speed_m_s,
        angle_deg=subject.angle_deg,
        distance_m=subject.distance_m,
        focal_length_mm=request.lens.focal_length_mm,
        blur_mm=blur_mm,
    )


def no_slower_than(seconds: float) -> int:
    """Return the index of the slowest shutter that is not slower than `seconds`."""
    return ceil(-3.0 * log2(seconds) - _TINY)


def no_faster_than(seconds: float) -> int:
    """Return the index of the fastest shutter that is not faster than `seconds`."""
    return floor(-3.0 * log2(seconds) + _TINY)
