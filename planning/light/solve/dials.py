"""How far the dials turn, and the apertures that the subject's depth asks for."""

from dataclasses import dataclass
from functools import lru_cache
from math import ceil, floor, log2

from planning.light.exposure import APERTURE_THIRDS, ISO_THIRDS, SHUTTER_THIRDS
from planning.light.optics import (
    airy_diameter_um,
    circle_of_confusion_mm,
    magnification,
    zone_f_number,
    zone_focus_m,
)
from planning.light.solve.gear import Body, Lens
from planning.light.solve.requests import Aim, SetUpRequest

# Common practice, no source:
SPARE_DEPTH_THIRDS = 3  # a stop in hand on the depth that the group needs
SPARE_ALL_SHARP_THIRDS = 6

_TINY = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class Dials:
    """How far each dial turns, by indices; a higher shutter index is faster."""

    widest: int
    narrowest: int
    base: int
    highest: int
    slowest: int
    fastest: int
    sync: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Focus:
    """What has to be sharp, and the f-numbers that it leads to, by indices.

    `needed_f_number` is exact, 0 for one plane; `needed` is on the lens, or its
    narrowest where even that is too wide. `home` is what the aim would like best;
    beyond `diffraction` an Airy disc outgrows the circle of confusion.
    """

    near_m: float
    far_m: float
    focus_m: float
    circle_mm: float
    needed_f_number: float
    diffraction_f_number: float
    needed: int
    home: int


@lru_cache(maxsize=64)
def read_dials(*, lens: Lens, body: Body) -> Dials:
    """Return how far the dials of this camera turn; ValueError if one has no stop."""
    apertures = APERTURE_THIRDS.within(
        lowest=lens.widest_f_number, highest=lens.narrowest_f_number
    )
    isos = ISO_THIRDS.within(lowest=body.base_iso, highest=body.highest_iso)
    shutters = SHUTTER_THIRDS.within(
        lowest=body.fastest_shutter_s, highest=body.slowest_shutter_s
    )
    syncs = SHUTTER_THIRDS.within(lowest=body.sync_s, highest=body.slowest_shutter_s)
    if not (apertures and isos and shutters and syncs):
        raise ValueError(f"no third stop lies within the limits of {lens} and {body}")
    return Dials(
        widest=apertures[0].index,
        narrowest=apertures[-1].index,
        base=isos[0].index,
        highest=isos[-1].index,
        slowest=shutters[0].index,
        fastest=shutters[-1].index,
        sync=syncs[-1].index,
    )


def read_focus(*, request: SetUpRequest, dials: Dials) -> Focus:
    """Return where to focus and which f-numbers hold what has to be sharp."""
    subject, lens, body = request.subject, request.lens, request.body
    circle = circle_of_confusion_mm(
        sensor_width_mm=body.sensor_width_mm, sensor_height_mm=body.sensor_height_mm
    )
    near, far = subject.near_m, subject.far_m
    if request.aim is Aim.ALL_SHARP and subject.background_m is not None:
        far = max(far, subject.background_m)
    focus = zone_focus_m(near_m=near, far_m=far)
    needed = zone_f_number(
        focal_length_mm=lens.focal_length_mm,
        near_m=near,
        far_m=far,
        circle_of_confusion_mm=circle,
    )
    scale = magnification(focal_length_mm=lens.focal_length_mm, focus_m=focus)
    diffraction = circle * 1000.0 / airy_diameter_um(1.0, magnification=scale)
    index = _aperture_index(needed, dials=dials)
    return Focus(
        near_m=near,
        far_m=far,
        focus_m=focus,
        circle_mm=circle,
        needed_f_number=needed,
        diffraction_f_number=diffraction,
        needed=index,
        home=_home(request.aim, needed=index, diffraction=diffraction, dials=dials),
    )


def _aperture_index(f_number: float, *, dials: Dials) -> int:
    """Return the widest aperture of the lens that is at least so narrow."""
    index = ceil(6.0 * log2(f_number) - _TINY) if f_number > 0.0 else dials.widest
    return min(max(index, dials.widest), dials.narrowest)


def _home(aim: Aim, *, needed: int, diffraction: float, dials: Dials) -> int:
    """Return the aperture that the aim would like best, by index."""
    spare = {
        Aim.FREEZE: 0,
        Aim.THIN_FOCUS: 0,
        Aim.ALL_SHARP: SPARE_ALL_SHARP_THIRDS,
    }.get(aim, SPARE_DEPTH_THIRDS)
    softest = max(needed, floor(6.0 * log2(diffraction)))
    return min(needed + spare, softest, dials.narrowest)
