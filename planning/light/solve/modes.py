"""Which exposure mode of the trade fits a set-up."""

from collections.abc import Iterable

from planning.light.solve.answers import ExposureMode, Limit
from planning.light.solve.levels import brightest, darkest
from planning.light.solve.requests import Aim
from planning.light.solve.settled import Settled

STEADY_STOPS = 1.0  # common practice: beyond it let the camera follow the light
SPARE_STOPS = 1.0
MOVES_FROM_M_S = 1.0


def choose_mode(settled: Settled, limits: Iterable[Limit]) -> ExposureMode:
    """Return how to set the camera; common practice.

    Manual where the light holds still or a flash counts; a priority mode where it does
    not, by what must not move; program where everything has a stop to spare.
    """
    request = settled.scene.request
    if request.light is None or request.flash is not None or _is_steady(settled):
        return ExposureMode.MANUAL
    if request.aim in {Aim.FREEZE, Aim.BLUR}:
        return ExposureMode.SHUTTER_PRIORITY
    if request.aim in {Aim.THIN_FOCUS, Aim.ALL_SHARP}:
        return ExposureMode.APERTURE_PRIORITY
    musts = [limit.margin_stops for limit in limits if limit.must]
    if request.aim is Aim.BALANCED and min(musts) >= SPARE_STOPS:
        return ExposureMode.PROGRAM
    if request.subject.depth_m == 0.0 and request.subject.speed_m_s >= MOVES_FROM_M_S:
        return ExposureMode.SHUTTER_PRIORITY
    return ExposureMode.APERTURE_PRIORITY


def _is_steady(settled: Settled) -> bool:
    light = settled.scene.request.light
    if light is None:
        return True
    end = settled.scene.request.light_end or light
    return brightest(light, end) - darkest(light, end) <= STEADY_STOPS + 1e-9


def mode_reason(settled: Settled, mode: ExposureMode) -> str:
    """Say why that mode."""
    if mode is ExposureMode.MANUAL and settled.scene.request.flash is not None:
        return "Manual: the flash is set for these settings."
    return {
        ExposureMode.MANUAL: "Manual: the light holds still within a stop.",
        ExposureMode.APERTURE_PRIORITY: (
            "Aperture priority: the light moves, the sharp zone must not."
        ),
        ExposureMode.SHUTTER_PRIORITY: (
            "Shutter priority: the light moves, the shutter must not."
        ),
        ExposureMode.PROGRAM: (
            "Program: the light moves and every limit has a stop to spare."
        ),
    }[mode]
