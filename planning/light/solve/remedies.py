"""What would help when a set-up does not fit, and how many stops each brings."""

from collections.abc import Callable, Iterator
from dataclasses import replace
from math import ceil, inf, log2, sqrt

from planning.light.exposure import APERTURE_THIRDS, ISO_THIRDS
from planning.light.motion import ACCEPTABLE_BLUR_MM, Movement
from planning.light.optics import crop_factor, depth_of_field
from planning.light.solve.answers import Limit, LimitName, Remedy, RemedyName
from planning.light.solve.requests import Ambient, Flash, SetUpRequest, Support
from planning.light.solve.scene import (
    FLASH_FREEZES_STOPS,
    HAND_CAP_S,
    blur_time_s,
    darkest,
)
from planning.light.solve.settle import Settled
from planning.light.solve.words import metres_text, stops_text, value_text

STRONGEST_PORTABLE_GUIDE_NUMBER_M = 60.0  # common practice: a big hot-shoe flash
USUAL_ENTRY_LOSS_STOPS = 1.5  # common practice: 1 to 2
_TRIES = 4  # thirds beyond the bare shortfall, for what rounding takes

Fits = Callable[[SetUpRequest], bool]


def remedies(
    settled: Settled, broken: Limit | None, *, fits: Fits
) -> tuple[Remedy, ...]:
    """Return what would help, most stops first; nothing where nothing is broken.

    `fits` is the solver's own word on a changed request.
    """
    if broken is None:
        return ()
    case = _Case(settled=settled, broken=broken, fits=fits)
    offers = [offer for find in _FINDERS[broken.name] for offer in find(case)]
    return tuple(sorted(offers, key=lambda offer: -offer.stops))


class _Case:
    """One broken limit, with what its remedies need."""

    def __init__(self, *, settled: Settled, broken: Limit, fits: Fits) -> None:
        self.settled = settled
        self.request = settled.scene.request
        self.short = broken.short_stops
        self.thirds = ceil(3.0 * min(broken.short_stops, 30.0) - 1e-9)
        self.fits = fits

    def offer(
        self, name: RemedyName, sentence: str, *, stops: float, trial: SetUpRequest
    ) -> Remedy:
        return Remedy(
            name=name, sentence=sentence, stops=stops, solves=self.fits(trial)
        )

    def enough(self, change: Callable[[int], SetUpRequest]) -> int:
        """Return how many thirds of a stop it takes for the set-up to fit.

        The bare shortfall where not even a little more does it.
        """
        tries = range(self.thirds, self.thirds + _TRIES)
        return next((n for n in tries if self.fits(change(n))), self.thirds)


def _tripod(case: _Case) -> Iterator[Remedy]:
    times, request = case.settled.scene.times, case.request
    if times.hand_s is None:
        return
    free = [case.request.body.slowest_shutter_s]
    free += [times.motion_s] if times.motion_s is not None else []
    stops = log2(min(free) / times.hand_s)
    if stops > 0.0:
        yield case.offer(
            RemedyName.TRIPOD,
            f"A tripod brings {stops_text(stops)}.",
            stops=stops,
            trial=replace(request, support=Support.TRIPOD),
        )


def _wider_aperture(case: _Case) -> Iterator[Remedy]:
    settled, request = case.settled, case.request
    widest = APERTURE_THIRDS.at(settled.scene.dials.widest)
    stops = (settled.aperture.index - widest.index) / 3.0
    if stops <= 0.0:
        return
    zone = depth_of_field(
        focal_length_mm=request.lens.focal_length_mm,
        f_number=widest.exact,
        focus_m=request.subject.distance_m,
        circle_of_confusion_mm=settled.scene.focus.circle_mm,
    )
    subject = replace(request.subject, depth_m=0.0, background_m=None)
    yield case.offer(
        RemedyName.WIDER_APERTURE,
        f"{widest.nominal} brings {stops_text(stops)}, "
        f"but only {metres_text(zone.total_m)} would be sharp.",
        stops=stops,
        trial=replace(request, subject=subject),
    )


def _higher_iso(case: _Case) -> Iterator[Remedy]:
    request, highest = case.request, case.settled.scene.dials.highest

    def change(thirds: int) -> SetUpRequest:
        stop = ISO_THIRDS.at(highest + thirds)
        return replace(request, body=replace(request.body, highest_iso=stop.exact))

    thirds = case.enough(change)
    stop = ISO_THIRDS.at(highest + thirds)
    if stop.index > highest:
        stops = (stop.index - highest) / 3.0
        yield case.offer(
            RemedyName.HIGHER_ISO,
            f"{stop.nominal} brings {stops_text(stops)}, "
            "if the camera has it and the noise is bearable.",
            stops=stops,
            trial=change(thirds),
        )


def _add_flash(case: _Case) -> Iterator[Remedy]:
    request, settled = case.request, case.settled
    if request.flash is not None:
        return
    distance = request.subject.distance_m
    stretch = sqrt(settled.iso.exact / 100.0)
    guide = ceil(settled.aperture.exact * distance / stretch)
    if guide > STRONGEST_PORTABLE_GUIDE_NUMBER_M:
        return
    flash = Flash(
        guide_number_m=guide,
        distance_m=distance,
        key_minus_fill_stops=FLASH_FREEZES_STOPS,
    )
    yield case.offer(
        RemedyName.ADD_FLASH,
        f"A flash of guide number {guide} or more at {metres_text(distance)} lights "
        "and freezes the subject.",
        stops=case.short,
        trial=replace(request, flash=flash),
    )


def _brighter_light(case: _Case) -> Iterator[Remedy]:
    request, light = case.request, case.request.light
    if light is None:
        return
    thirds = case.enough(lambda n: _relit(request, stops=n / 3.0))
    dark = darkest(light, request.light_end or light)
    falls = request.light_end is not None and (
        request.light_end.exposure_value < light.exposure_value
    )
    advice = "Start earlier" if falls else "Shoot where or when it is brighter"
    yield case.offer(
        RemedyName.BRIGHTER_LIGHT,
        f"{advice}: the light must not fall under {value_text(dark + thirds / 3.0)}, "
        f"{stops_text(thirds / 3.0)} more than it may be.",
        stops=thirds / 3.0,
        trial=_relit(request, stops=thirds / 3.0),
    )


def _darker_light(case: _Case) -> Iterator[Remedy]:
    request = case.request
    if request.light is None:
        return
    thirds = case.enough(lambda n: _relit(request, stops=-n / 3.0))
    yield case.offer(
        RemedyName.DARKER_LIGHT,
        f"Shade or a later hour, {stops_text(thirds / 3.0)} darker.",
        stops=thirds / 3.0,
        trial=_relit(request, stops=-thirds / 3.0),
    )


def _nd_filter(case: _Case) -> Iterator[Remedy]:
    request = case.request
    if request.light is None or case.short > 20.0:
        return
    thirds = case.enough(lambda n: _filtered(request, stops=ceil(n / 3.0)))
    stops = ceil(thirds / 3.0)
    yield case.offer(
        RemedyName.ND_FILTER,
        f"An ND {0.3 * stops:.1f} filter takes {stops_text(stops)}.",
        stops=float(stops),
        trial=_filtered(request, stops=stops),
    )


def _stand_still(case: _Case) -> Iterator[Remedy]:
    request, times = case.request, case.settled.scene.times
    subject = replace(request.subject, speed_m_s=Movement.STANDING.speed_m_s)
    trial = replace(request, subject=subject)
    blur = ACCEPTABLE_BLUR_MM / crop_factor(
        sensor_width_mm=request.body.sensor_width_mm,
        sensor_height_mm=request.body.sensor_height_mm,
    )
    still = blur_time_s(trial, blur_mm=blur)
    if times.motion_s is None or still is None or still <= times.motion_s:
        return
    stops = log2(min(still, times.hand_s or inf) / times.motion_s)
    if stops > 0.0:
        yield case.offer(
            RemedyName.STAND_STILL,
            f"A subject that stands still brings {stops_text(stops)}.",
            stops=stops,
            trial=trial,
        )


def _shorter_lens(case: _Case) -> Iterator[Remedy]:
    request, lens = case.request, case.request.lens
    short = lens.shortest_focal_length_mm
    if short is None or short >= lens.focal_length_mm:
        return
    stops = log2(lens.focal_length_mm / short)
    if case.settled.scene.times.hand_s == HAND_CAP_S:
        return
    yield case.offer(
        RemedyName.SHORTER_LENS,
        f"{short:g} mm brings {stops_text(stops)}, and a looser frame.",
        stops=stops,
        trial=replace(request, lens=replace(lens, focal_length_mm=short)),
    )


def _shorter_lens_for_depth(case: _Case) -> Iterator[Remedy]:
    request, lens = case.request, case.request.lens
    short = lens.shortest_focal_length_mm
    if short is None or short >= lens.focal_length_mm:
        return
    stops = 2.0 * log2(lens.focal_length_mm / short)
    yield case.offer(
        RemedyName.SHORTER_LENS,
        f"{short:g} mm brings {stops_text(stops)} of depth, and a looser frame.",
        stops=stops,
        trial=replace(request, lens=replace(lens, focal_length_mm=short)),
    )


def _shallower_group(case: _Case) -> Iterator[Remedy]:
    request, subject = case.request, case.request.subject
    if subject.depth_m <= 0.0:
        return
    for thirds in range(case.thirds, case.thirds + _TRIES):
        depth = subject.depth_m * 2.0 ** (-thirds / 3.0)
        trial = replace(request, subject=replace(subject, depth_m=depth))
        if case.fits(trial):
            yield case.offer(
                RemedyName.SHALLOWER_GROUP,
                f"Line the group up within {metres_text(depth)}.",
                stops=thirds / 3.0,
                trial=trial,
            )
            return


def _stand_back(case: _Case) -> Iterator[Remedy]:
    request, subject = case.request, case.request.subject
    for sixths in range(1, 25):
        distance = subject.distance_m * 2.0 ** (sixths / 6.0)
        if subject.background_m is not None and distance > subject.background_m:
            return
        moved = replace(subject, distance_m=distance)
        if moved.background_m is not None:
            extra = distance - subject.distance_m
            moved = replace(moved, background_m=moved.background_m + extra)
        trial = replace(request, subject=moved)
        if case.fits(trial):
            yield case.offer(
                RemedyName.STAND_BACK,
                f"Stand back to {metres_text(distance)}, with a looser frame.",
                stops=max(case.short, sixths / 3.0),
                trial=trial,
            )
            return


def _high_speed(case: _Case) -> Iterator[Remedy]:
    request, flash = case.request, case.request.flash
    if flash is None or flash.high_speed_entry_stops is not None:
        return
    trial = replace(
        request, flash=replace(flash, entry_loss_stops=USUAL_ENTRY_LOSS_STOPS)
    )
    if case.fits(trial):
        yield case.offer(
            RemedyName.HIGH_SPEED_SYNC,
            "High-speed sync, if the flash has it: it costs "
            f"{stops_text(USUAL_ENTRY_LOSS_STOPS)} at once (measure yours).",
            stops=case.short,
            trial=trial,
        )


def _move_flash(case: _Case, *, sign: int) -> Iterator[Remedy]:
    request, flash = case.request, case.request.flash
    if flash is None:
        return

    def change(thirds: int) -> SetUpRequest:
        distance = flash.distance_m * 2.0 ** (-sign * thirds / 6.0)
        return replace(request, flash=replace(flash, distance_m=distance))

    thirds = case.enough(change)
    distance = flash.distance_m * 2.0 ** (-sign * thirds / 6.0)
    name = RemedyName.FLASH_CLOSER if sign > 0 else RemedyName.FLASH_FARTHER
    yield case.offer(
        name,
        f"The flash at {metres_text(distance)} instead of "
        f"{metres_text(flash.distance_m)}.",
        stops=thirds / 3.0,
        trial=change(thirds),
    )


def _flash_closer(case: _Case) -> Iterator[Remedy]:
    return _move_flash(case, sign=1)


def _flash_farther(case: _Case) -> Iterator[Remedy]:
    return _move_flash(case, sign=-1)


def _bare_flash(case: _Case) -> Iterator[Remedy]:
    request, flash = case.request, case.request.flash
    if flash is not None and flash.loss_stops > 0.0:
        yield case.offer(
            RemedyName.BARE_FLASH,
            f"Without its modifier the flash brings {stops_text(flash.loss_stops)}, "
            "and harder light.",
            stops=flash.loss_stops,
            trial=replace(request, flash=replace(flash, loss_stops=0.0)),
        )


def _relit(request: SetUpRequest, *, stops: float) -> SetUpRequest:
    """Return the request under light that is so many stops brighter."""

    def lift(light: Ambient | None) -> Ambient | None:
        if light is None:
            return None
        value = min(max(light.exposure_value + stops, -30.0), 30.0)
        return replace(light, exposure_value=value)

    return replace(
        request, light=lift(request.light), light_end=lift(request.light_end)
    )


def _filtered(request: SetUpRequest, *, stops: float) -> SetUpRequest:
    """Return the request behind a filter, which takes from the flashes too."""

    def dim(flash: Flash | None) -> Flash | None:
        if flash is None:
            return None
        return replace(flash, loss_stops=flash.loss_stops + stops)

    dark = _relit(request, stops=-stops)
    return replace(dark, flash=dim(dark.flash), second_flash=dim(dark.second_flash))


_TOO_DARK = (
    _tripod,
    _add_flash,
    _stand_still,
    _brighter_light,
    _wider_aperture,
    _higher_iso,
    _shorter_lens,
)
_TOO_BRIGHT = (_nd_filter, _darker_light)
_TOO_WEAK = (_flash_closer, _bare_flash, _wider_aperture, _higher_iso)
_FINDERS: dict[LimitName, tuple[Callable[[_Case], Iterator[Remedy]], ...]] = {
    LimitName.DEPTH: (
        _shallower_group,
        _stand_back,
        _shorter_lens_for_depth,
        _add_flash,
    ),
    LimitName.CLOSE_FOCUS: (_stand_back,),
    LimitName.HAND: _TOO_DARK,
    LimitName.MOTION: _TOO_DARK,
    LimitName.SLOWEST: _TOO_DARK,
    LimitName.NOISE: _TOO_DARK,
    LimitName.STREAK: _TOO_BRIGHT,
    LimitName.THIN_FOCUS: (*_TOO_BRIGHT, _high_speed, _flash_farther),
    LimitName.FASTEST: _TOO_BRIGHT,
    LimitName.SYNC: (_high_speed, *_TOO_BRIGHT),
    LimitName.REACH: _TOO_WEAK,
    LimitName.LOWEST_POWER: (_flash_farther, _nd_filter),
    LimitName.SECOND_REACH: (_wider_aperture, _higher_iso),
    LimitName.SECOND_LOWEST_POWER: (_nd_filter,),
}
