"""What helps where there is too little light for the shutter."""

from collections.abc import Iterator
from dataclasses import replace
from math import inf, log2

from planning.light.exposure import APERTURE_THIRDS, ISO_THIRDS
from planning.light.motion import ACCEPTABLE_BLUR_MM, Movement
from planning.light.optics import crop_factor, depth_of_field
from planning.light.solve.answers import LimitName, RemedyName
from planning.light.solve.gear import Flash
from planning.light.solve.help.offers import Case, Change, Offer, relit
from planning.light.solve.levels import darkest
from planning.light.solve.limits import FLASH_FREEZES_STOPS
from planning.light.solve.requests import SetUpRequest, Support
from planning.light.solve.times import HAND_CAP_S, blur_time_s
from planning.light.solve.words import metres_text, stops_text, value_text

GUIDE_NUMBERS_M = (10.0, 14.0, 20.0, 28.0, 40.0, 56.0)  # portable flashes, in stops


def tripod(case: Case) -> Iterator[Offer]:
    """Offer a tripod, worth what lies between the hand and the next limit."""
    times, body = case.settled.scene.times, case.request.body
    if times.hand_s is None:
        return
    others = (body.slowest_shutter_s, times.motion_s, times.dissolve_s)
    stops = log2(min(t for t in others if t is not None) / times.hand_s)
    if stops > 0.0:
        yield Offer(
            name=RemedyName.TRIPOD,
            sentence=f"A tripod brings {stops_text(stops)}.",
            stops=stops,
            change=lambda request: replace(request, support=Support.TRIPOD),
        )


def wider_aperture(case: Case) -> Iterator[Offer]:
    """Offer the lens wide open, at the price of depth."""
    settled = case.settled
    widest = APERTURE_THIRDS.at(settled.scene.dials.widest)
    stops = (settled.aperture.index - widest.index) / 3.0
    if stops <= 0.0:
        return
    zone = depth_of_field(
        focal_length_mm=case.request.lens.focal_length_mm,
        f_number=widest.exact,
        focus_m=case.request.subject.distance_m,
        circle_of_confusion_mm=settled.scene.focus.circle_mm,
    )

    def change(request: SetUpRequest) -> SetUpRequest:
        subject = replace(request.subject, depth_m=0.0, background_m=None)
        return replace(request, subject=subject)

    yield Offer(
        name=RemedyName.WIDER_APERTURE,
        sentence=f"{widest.nominal} brings {stops_text(stops)}, "
        f"but only {metres_text(zone.total_m)} would be sharp.",
        stops=stops,
        change=change,
    )


def higher_iso(case: Case) -> Iterator[Offer]:
    """Offer an ISO above what the owner likes, as high as it takes."""
    highest = case.settled.scene.dials.highest

    def change_by(thirds: int) -> Change:
        iso = ISO_THIRDS.at(highest + thirds).exact
        return lambda request: replace(
            request, body=replace(request.body, highest_iso=iso)
        )

    thirds = case.enough(change_by)
    stop = ISO_THIRDS.at(highest + thirds)
    if stop.index > highest:
        stops = (stop.index - highest) / 3.0
        yield Offer(
            name=RemedyName.HIGHER_ISO,
            sentence=f"{stop.nominal} brings {stops_text(stops)}, "
            "if the camera has it and the noise is bearable.",
            stops=stops,
            change=change_by(thirds),
        )


def add_flash(case: Case) -> Iterator[Offer]:
    """Offer the weakest portable flash that, as key light, makes the set-up fit."""
    if case.request.flash is not None:
        return
    distance = case.request.subject.distance_m

    def change_to(guide: float) -> Change:
        flash = Flash(
            guide_number_m=guide,
            distance_m=distance,
            key_minus_fill_stops=FLASH_FREEZES_STOPS,
        )
        return lambda request: replace(request, flash=flash)

    for guide in GUIDE_NUMBERS_M:
        if case.fits(change_to(guide)(case.request)):
            yield Offer(
                name=RemedyName.ADD_FLASH,
                sentence=f"A flash of guide number {guide:g} or more, "
                f"{metres_text(distance)} off, lights and freezes the subject.",
                stops=case.broken.short_stops,
                change=change_to(guide),
            )
            return


def brighter_light(case: Case) -> Iterator[Offer]:
    """Offer to shoot earlier, or where it is brighter, by as much as it takes."""
    light, end = case.request.light, case.request.light_end
    if light is None:
        return
    stops = case.enough(lambda n: relit(n / 3.0)) / 3.0
    dark = darkest(light, end or light)
    falls = end is not None and end.exposure_value < light.exposure_value
    advice = "Start earlier" if falls else "Shoot where or when it is brighter"
    yield Offer(
        name=RemedyName.BRIGHTER_LIGHT,
        sentence=f"{advice}: {value_text(dark + stops)} at the darkest, "
        f"{stops_text(stops)} more than it may be.",
        stops=stops,
        change=relit(stops),
    )


def stand_still(case: Case) -> Iterator[Offer]:
    """Offer that the subject stands, worth what lies up to the next limit."""
    times, body = case.settled.scene.times, case.request.body

    def change(request: SetUpRequest) -> SetUpRequest:
        still = replace(request.subject, speed_m_s=Movement.STANDING.speed_m_s)
        return replace(request, subject=still)

    crop = crop_factor(
        sensor_width_mm=body.sensor_width_mm, sensor_height_mm=body.sensor_height_mm
    )
    still_s = blur_time_s(change(case.request), blur_mm=ACCEPTABLE_BLUR_MM / crop)
    if times.motion_s is None or still_s is None:
        return
    stops = log2(min(still_s, times.hand_s or inf) / times.motion_s)
    if stops > 0.0:
        yield Offer(
            name=RemedyName.STAND_STILL,
            sentence=f"A subject that stands still brings {stops_text(stops)}.",
            stops=stops,
            change=change,
        )


def shorter_lens(case: Case) -> Iterator[Offer]:
    """Offer the zoom's short end: steadier, slower across the frame, deeper."""
    lens = case.request.lens
    short = lens.shortest_focal_length_mm
    if short is None or short >= lens.focal_length_mm:
        return
    stops = log2(lens.focal_length_mm / short)
    if case.broken.name is LimitName.DEPTH:
        stops *= 2.0
    elif case.settled.scene.times.hand_s == HAND_CAP_S:
        return
    yield Offer(
        name=RemedyName.SHORTER_LENS,
        sentence=f"{short:g} mm brings {stops_text(stops)}, and a looser frame.",
        stops=stops,
        change=lambda request: replace(
            request, lens=replace(request.lens, focal_length_mm=short)
        ),
    )
