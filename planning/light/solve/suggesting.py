"""From a request to a suggestion."""

from math import log2

from planning.light.motion import image_speed_mm_s
from planning.light.optics import DepthOfField, background_blur_mm, depth_of_field
from planning.light.solve.answers import Dialled, Limit, Suggestion
from planning.light.solve.ends import bright_end_text, dark_end_text
from planning.light.solve.giving import what_gave_way
from planning.light.solve.help.remedies import find_remedies
from planning.light.solve.lamps import Lamps, set_lamps
from planning.light.solve.limits import flash_freezes, judge
from planning.light.solve.modes import choose_mode
from planning.light.solve.reasons import reasons
from planning.light.solve.requests import SetUpRequest
from planning.light.solve.scene import read_scene
from planning.light.solve.settle import settle
from planning.light.solve.settled import Settled


def suggest(request: SetUpRequest) -> Suggestion:
    """Return settings for a set-up, with every limit, what gave way, and what helps.

    The settings expose for the likely light within a sixth of a stop, or a limit says
    why not; shutter limits are judged at the dark end. The same request always gives
    the same answer. ValueError for a request that contradicts itself.
    """
    settled = settle(read_scene(request))
    lamps = set_lamps(settled)
    limits = judge(settled, lamps)
    broken = worst_broken(limits)
    zone = sharp_zone(settled)
    mode = choose_mode(settled, limits)
    light, end = request.light, request.light_end or request.light
    last = settled.on_dial(settled.end)
    remedies, together = find_remedies(settled, limits, shortfall=shortfall_stops)
    return Suggestion(
        f_number=settled.aperture,
        shutter=settled.shutter,
        iso=settled.iso,
        exposure_value=light.exposure_value if light else None,
        exposure_value_end=end.exposure_value if end else None,
        shutter_end=last if last != settled.shutter else None,
        shutter_dark=settled.on_dial(settled.dark),
        shutter_bright=settled.on_dial(settled.bright),
        exposure_error_stops=log2(lamps.full),
        focus_m=settled.scene.focus.focus_m,
        zone=zone,
        blur_mm=motion_blur_mm(settled),
        background_blur_mm=_background_blur(settled),
        limits=limits,
        gave_way=what_gave_way(settled, limits),
        mode=mode,
        fits=broken is None,
        broken=broken,
        remedies=remedies,
        together=together,
        reasons=reasons(settled, zone=zone, limits=limits, lamps=lamps, mode=mode),
        dark_end=dark_end_text(settled),
        bright_end=bright_end_text(settled),
        flash=lamps.flash,
        second_flash=lamps.second,
        ratio=lamps.ratio,
        ambient_under_stops=_ambient_under(settled, lamps, at_end=False),
        ambient_under_end_stops=_ambient_under(settled, lamps, at_end=True),
    )


def dialled(request: SetUpRequest) -> Dialled:
    """Return the settings that `suggest` gives, without its reasons: 10 times sooner.

    ValueError for a request that contradicts itself.
    """
    settled = settle(read_scene(request))
    return Dialled(
        f_number=settled.aperture,
        shutter=settled.shutter,
        iso=settled.iso,
        fits=worst_broken(judge(settled, set_lamps(settled))) is None,
    )


def shortfall_stops(request: SetUpRequest) -> float:
    """Return by how many stops a request's limits are broken in all; 0: it fits."""
    settled = settle(read_scene(request))
    limits = judge(settled, set_lamps(settled))
    return sum(limit.short_stops for limit in limits if limit.must)


def worst_broken(limits: tuple[Limit, ...]) -> Limit | None:
    """Return the limit that is broken by the most stops, the first of equals."""
    broken = [limit for limit in limits if limit.must and not limit.met]
    return min(broken, key=lambda limit: limit.margin_stops, default=None)


def sharp_zone(settled: Settled) -> DepthOfField:
    """Return what the settings draw sharp."""
    return depth_of_field(
        focal_length_mm=settled.scene.request.lens.focal_length_mm,
        f_number=settled.aperture.exact,
        focus_m=settled.scene.focus.focus_m,
        circle_of_confusion_mm=settled.scene.focus.circle_mm,
    )


def motion_blur_mm(settled: Settled) -> float:
    """Return how far the subject moves over the sensor at the dark end, in mm.

    0 where the flash, not the shutter, draws it.
    """
    if flash_freezes(settled):
        return 0.0
    subject = settled.scene.request.subject
    speed = image_speed_mm_s(
        speed_m_s=subject.speed_m_s,
        angle_deg=subject.angle_deg,
        distance_m=subject.distance_m,
        focal_length_mm=settled.scene.request.lens.focal_length_mm,
    )
    return speed * settled.on_dial(settled.dark).exact


def _background_blur(settled: Settled) -> float | None:
    background = settled.scene.request.subject.background_m
    if background is None:
        return None
    return background_blur_mm(
        focal_length_mm=settled.scene.request.lens.focal_length_mm,
        f_number=settled.aperture.exact,
        focus_m=settled.scene.focus.focus_m,
        object_m=background,
    )


def _ambient_under(settled: Settled, lamps: Lamps, *, at_end: bool) -> float | None:
    """Return how far the ambient stays under a full exposure, with a flash."""
    request = settled.scene.request
    if lamps.flash is None or request.light is None:
        return None
    light = (request.light_end or request.light) if at_end else request.light
    shutter = settled.end if at_end else settled.start
    moved = (settled.start - shutter) / 3.0
    return -log2(settled.ambient_share(light.exposure_value)) - moved
