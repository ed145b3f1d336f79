"""Why these settings, in sentences that a photographer reads."""

from collections.abc import Iterator
from math import isinf

from planning.light.optics import DepthOfField
from planning.light.solve.answers import ExposureMode, FlashSetting, Limit, LimitName
from planning.light.solve.gear import FlashMode
from planning.light.solve.giving import what_asks
from planning.light.solve.lamps import Lamps
from planning.light.solve.limits import flash_freezes
from planning.light.solve.modes import mode_reason
from planning.light.solve.settled import Settled
from planning.light.solve.words import (
    change_text,
    metres_text,
    span_text,
    stops_text,
)

RED_EYE_DEG = 2.5  # teaching pages say 2 to 2.5; no controlled study


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
        mode_reason(settled, mode),
    )


def _aperture_reasons(
    settled: Settled, *, zone: DepthOfField, depth: Limit | None
) -> Iterator[str]:
    f_number, focus = settled.aperture.nominal, settled.scene.focus
    sharp = f"{f_number} keeps {span_text(zone.near_m, zone.far_m)} sharp"
    if depth is None:
        yield f"{sharp}, {metres_text(zone.total_m)} in all."
    elif depth.met:
        yield f"{sharp}; {depth.sentence}."
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
    yield from _slow_reasons(settled, found)
    streak = found.get(LimitName.STREAK)
    if streak is None:
        return
    if isinf(streak.margin_stops):
        yield _sentence(streak.sentence)
    elif streak.met:
        yield f"{shutter} serves: {streak.sentence}."
    else:
        off = stops_text(streak.short_stops)
        yield f"{shutter} is {off} too fast: {streak.sentence}."


def _slow_reasons(settled: Settled, found: dict[LimitName, Limit]) -> Iterator[str]:
    """Name each limit that the shutter breaks, or the one nearest to it."""
    names = (LimitName.MOTION, LimitName.HAND)
    limits = [found[name] for name in names if name in found]
    broken = [limit for limit in limits if not limit.met]
    dark = settled.on_dial(settled.dark).nominal
    for limit in broken:
        off = stops_text(limit.short_stops)
        yield f"{dark} at the dark end is {off} too slow: {limit.sentence}."
    if limits and not broken:
        tightest = min(limits, key=lambda limit: limit.margin_stops)
        yield f"{dark} at the dark end still serves: {tightest.sentence}."


def _sentence(words: str) -> str:
    return f"{words[0].upper()}{words[1:]}."


def _iso_reason(settled: Settled) -> str:
    base = settled.scene.dials.base
    if settled.iso.index == base:
        return f"{settled.iso.nominal} is the camera's cleanest."
    stops = stops_text((settled.iso.index - base) / 3.0)
    return f"{settled.iso.nominal} makes up {stops}: {what_asks(settled)}."


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
    if request.flash.mode is not FlashMode.BOUNCE:
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
