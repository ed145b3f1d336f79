"""Why these settings: what gave way, how to set the camera, and plain sentences."""

from collections.abc import Iterable, Iterator
from math import isinf

from planning.light.exposure import APERTURE_THIRDS, ISO_THIRDS, SHUTTER_THIRDS
from planning.light.optics import DepthOfField
from planning.light.solve.answers import (
    ExposureMode,
    FlashSetting,
    GaveName,
    GaveWay,
    Limit,
    LimitName,
)
from planning.light.solve.lamps import Lamps
from planning.light.solve.limits import flash_freezes
from planning.light.solve.requests import Aim, FlashMode
from planning.light.solve.scene import brightest, darkest
from planning.light.solve.settle import Settled
from planning.light.solve.words import (
    change_text,
    metres_text,
    seconds_text,
    span_text,
    stops_text,
    value_text,
)

STEADY_STOPS = 1.0  # common practice: beyond it let the camera follow the light
SPARE_STOPS = 1.0
RED_EYE_DEG = 2.5  # teaching pages say 2 to 2.5; no controlled study
MOVES_FROM_M_S = 1.0


def what_gave_way(settled: Settled, limits: Iterable[Limit]) -> tuple[GaveWay, ...]:
    """Return what was given up, in the order in which this aim gives."""
    noise = list(_noise(settled))
    aperture = list(_aperture(settled))
    opened_first = settled.scene.request.aim is Aim.LOW_NOISE
    first, then = (aperture, noise) if opened_first else (noise, aperture)
    broken = [
        GaveWay(
            name=GaveName.LIMIT,
            sentence=f"{limit.name.capitalize()} is broken: {limit.sentence}",
            stops=limit.short_stops,
        )
        for limit in limits
        if limit.must and not limit.met
    ]
    return (*first, *then, *_background(settled), *broken)


def _noise(settled: Settled) -> Iterator[GaveWay]:
    base = ISO_THIRDS.at(settled.scene.dials.base)
    stops = (settled.iso.index - base.index) / 3.0
    if stops > 0.0:
        yield GaveWay(
            name=GaveName.LOW_NOISE,
            sentence=f"{settled.iso.nominal} instead of {base.nominal}: "
            f"{_what_asks(settled)}",
            stops=stops,
        )


def _aperture(settled: Settled) -> Iterator[GaveWay]:
    home = APERTURE_THIRDS.at(settled.scene.focus.home)
    stops = (home.index - settled.aperture.index) / 3.0
    change = f"{settled.aperture.nominal} instead of {home.nominal}"
    if stops > 0.0:
        yield GaveWay(
            name=GaveName.SPARE_DEPTH,
            sentence=f"{change}: {_what_asks(settled)}",
            stops=stops,
        )
    if stops < 0.0:
        fastest = SHUTTER_THIRDS.at(settled.scene.dials.fastest).nominal
        why = f"{fastest} is the fastest shutter"
        if settled.scene.request.flash is not None:
            why = "the flash needs its sync speed, or less power than it can give"
        if settled.scene.times.streak_s is not None:
            why = "the blur needs a slow shutter"
        yield GaveWay(
            name=GaveName.OPEN_APERTURE, sentence=f"{change}: {why}", stops=-stops
        )


def _background(settled: Settled) -> Iterator[GaveWay]:
    stops = (settled.start - settled.wanted) / 3.0
    if settled.scene.levels is not None and stops > 0.0:
        yield GaveWay(
            name=GaveName.BACKGROUND,
            sentence=f"the background goes {stops_text(stops)} darker: "
            f"{settled.shutter.nominal} is the slowest that serves",
            stops=stops,
        )


def _what_asks(settled: Settled) -> str:
    """Say what made the camera take more light."""
    request = settled.scene.request
    if settled.scene.flash_is_key or request.light is None:
        return "the flash needs it to reach"
    times, dials = settled.scene.times, settled.scene.dials
    asked = [
        (times.hand_s, "by hand"),
        (times.motion_s, "for the motion"),
        (times.critical_s, "to freeze it fully"),
        (times.dissolve_s, "so that the blur stays somebody"),
    ]
    slowest = SHUTTER_THIRDS.at(dials.slowest).exact
    stated = [(limit, why) for limit, why in asked if limit is not None]
    limit, why = min(stated, default=(slowest, "at the slowest"))
    dark = darkest(request.light, request.light_end or request.light)
    return f"{seconds_text(limit)} {why}, and the light may be {value_text(dark)}"


def exposure_mode(settled: Settled, limits: Iterable[Limit]) -> ExposureMode:
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


def reasons(
    settled: Settled,
    *,
    zone: DepthOfField,
    limits: tuple[Limit, ...],
    lamps: Lamps,
    mode: ExposureMode,
) -> tuple[str, ...]:
    """Return the sentences that a photographer reads, most telling first."""
    found = {limit.name: limit for limit in limits}
    return (
        *_aperture_reasons(settled, zone=zone, depth=found.get(LimitName.DEPTH)),
        *_shutter_reasons(settled, found),
        _iso_reason(settled),
        *_flash_reasons(settled, lamps),
        *_ratio_reasons(lamps),
        _mode_reason(mode),
    )


def _aperture_reasons(
    settled: Settled, *, zone: DepthOfField, depth: Limit | None
) -> Iterator[str]:
    f_number, focus = settled.aperture.nominal, settled.scene.focus
    sharp = f"{f_number} keeps {span_text(zone.near_m, zone.far_m)} sharp"
    if depth is None:
        yield f"{sharp}, {metres_text(zone.total_m)} in all."
    elif depth.met:
        yield f"{sharp}: {depth.sentence}."
    else:
        yield f"{sharp}, {stops_text(depth.short_stops)} short: {depth.sentence}."
    middle = settled.scene.request.subject.distance_m
    if abs(focus.focus_m - middle) >= 0.02 * middle:
        where = "nearer than" if focus.focus_m < middle else "beyond"
        yield (
            f"Focus at {focus.focus_m:.1f} m, a little {where} the middle, "
            "to share the zone out evenly."
        )


def _shutter_reasons(settled: Settled, found: dict[LimitName, Limit]) -> Iterator[str]:
    request = settled.scene.request
    shutter = change_text(settled.shutter, settled.on_dial(settled.end))
    if request.light is None:
        yield f"{shutter} is the sync speed; the flash alone makes the exposure."
        return
    if flash_freezes(settled):
        yield f"{shutter}: the flash stops the subject, three stops over the ambient."
    for name in (LimitName.MOTION, LimitName.HAND, LimitName.STREAK):
        limit = found.get(name)
        if limit is None:
            continue
        if limit.met:
            yield f"{shutter} serves: {limit.sentence}."
        elif isinf(limit.margin_stops):
            yield f"{limit.sentence.capitalize()}."
        else:
            yield f"{shutter} is {stops_text(limit.short_stops)} off: {limit.sentence}."


def _iso_reason(settled: Settled) -> str:
    base = settled.scene.dials.base
    if settled.iso.index == base:
        return f"{settled.iso.nominal} is the camera's cleanest."
    stops = stops_text((settled.iso.index - base) / 3.0)
    return f"{settled.iso.nominal} makes up {stops}: {_what_asks(settled)}."


def _flash_reasons(settled: Settled, lamps: Lamps) -> Iterator[str]:
    request = settled.scene.request
    if request.flash is None or lamps.flash is None:
        return
    yield f"Flash at {lamps.flash.mark} power as the {request.flash.purpose} light."
    if lamps.flash.high_speed_sync:
        yield (
            f"High-speed sync at {settled.shutter.nominal}; it costs the flash "
            f"{stops_text(lamps.flash.loss_stops - request.flash.total_loss_stops)}."
        )
    yield from _red_eye(lamps.flash)
    if request.second_flash is None or lamps.second is None:
        return
    purpose = request.second_flash.purpose
    yield f"Second light at {lamps.second.mark} power as the {purpose} light."
    if request.second_flash.mode is FlashMode.SLAVE:
        yield (
            "The first flash fires the second: set it to manual, because a "
            "pre-flash would fire the second too early."
        )


def _red_eye(setting: FlashSetting) -> Iterator[str]:
    angle = setting.red_eye_angle_deg
    if angle is not None and angle < RED_EYE_DEG:
        yield (
            f"The flash stands {angle:.1f}° from the lens, seen from the eye: "
            f"below {RED_EYE_DEG}° expect red eyes, sooner in a dim room."
        )


def _ratio_reasons(lamps: Lamps) -> Iterator[str]:
    ratio = lamps.ratio
    if ratio is not None:
        yield (
            f"Lit side to shadow side {ratio.key_plus_fill_to_fill:.1f}:1 "
            f"(key to fill by themselves {ratio.incident_key_to_fill:.1f}:1)."
        )


def _mode_reason(mode: ExposureMode) -> str:
    return {
        ExposureMode.MANUAL: "Manual: the exposure stays put from frame to frame.",
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


def dark_end_text(settled: Settled) -> str:
    """Say where the shutter goes if the light is as low as it may be."""
    light = settled.scene.request.light
    if light is None:
        return "Flash alone: the light is the same from first frame to last."
    if settled.scene.flash_is_key:
        return "The flash holds the subject; only the background darkens."
    dark = darkest(light, settled.scene.request.light_end or light)
    shutter = settled.on_dial(settled.dark).nominal
    return f"At the dark end, {value_text(dark)}, it is {shutter}."


def bright_end_text(settled: Settled) -> str:
    """Say how far the bright end of the light goes, and what it runs into."""
    light = settled.scene.request.light
    if light is None:
        return "Flash alone: no brighter end."
    bright = brightest(light, settled.scene.request.light_end or light)
    if settled.scene.flash_is_key:
        more = stops_text(bright - light.exposure_value)
        return f"At the bright end, {value_text(bright)}, the background is {more} up."
    dials = settled.scene.dials
    shutter = settled.on_dial(settled.bright).nominal
    text = f"At the bright end, {value_text(bright)}, it is {shutter}"
    over = (settled.bright - dials.fastest) / 3.0
    if over > 0.0:
        return f"{text} and {stops_text(over)} too bright still: stop down."
    past = (settled.bright - dials.sync) / 3.0
    if settled.scene.request.flash is not None and past > 0.0:
        return f"{text}, {stops_text(past)} past flash sync: stop down."
    return f"{text}."
