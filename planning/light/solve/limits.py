"""Every limit, and how settled settings stand to it in stops."""

from collections.abc import Iterator
from math import ceil, inf, log2

from planning.light.exposure import APERTURE_THIRDS, ISO_THIRDS, SHUTTER_THIRDS
from planning.light.solve.answers import FlashSetting, Limit, LimitName
from planning.light.solve.gear import Flash
from planning.light.solve.lamps import Lamps
from planning.light.solve.requests import Aim
from planning.light.solve.settled import Settled
from planning.light.solve.words import (
    group_text,
    metres_text,
    seconds_text,
    stops_text,
)

FLASH_FREEZES_STOPS = 3.0  # common practice: so far under, ambient draws nothing


def judge(settled: Settled, lamps: Lamps) -> tuple[Limit, ...]:
    """Return every limit of the scene with its margin, in a fixed order."""
    return (
        *_focus_limits(settled),
        *_shutter_limits(settled),
        *_aim_limits(settled),
        *_camera_limits(settled),
        *_lamp_limits(settled, lamps),
        *_wishes(settled),
    )


def flash_freezes(settled: Settled) -> bool:
    """Say whether the flash, not the shutter, draws the subject.

    Common practice: the ambient three stops or more under.
    """
    if not settled.scene.flash_is_key:
        return False
    ambient = settled.ambient_full
    return ambient <= 0.0 or -log2(ambient) >= FLASH_FREEZES_STOPS - 1e-9


def _focus_limits(settled: Settled) -> Iterator[Limit]:
    focus, request = settled.scene.focus, settled.scene.request
    if focus.needed_f_number > 0.0:
        yield Limit(
            name=LimitName.DEPTH,
            sentence=f"{aperture_text(focus.needed_f_number)} or narrower holds "
            f"{_held_text(settled)}",
            margin_stops=2.0 * log2(settled.aperture.exact / focus.needed_f_number),
        )
    close = request.lens.close_focus_m
    if close is not None:
        yield Limit(
            name=LimitName.CLOSE_FOCUS,
            sentence=f"the lens focuses no nearer than {metres_text(close)}",
            margin_stops=2.0 * log2(focus.focus_m / close),
        )


def _held_text(settled: Settled) -> str:
    focus, subject = settled.scene.focus, settled.scene.request.subject
    near = metres_text(focus.near_m)
    if focus.far_m > subject.far_m:
        return f"everything from {near} to {metres_text(focus.far_m)}"
    who = group_text(subject.people)
    return f"{who} sharp, {metres_text(subject.depth_m)} deep"


def aperture_text(f_number: float) -> str:
    """Name the aperture that is at least so narrow; by value beyond every dial."""
    index = max(ceil(6.0 * log2(f_number) - 1e-9), 0)
    if index > APERTURE_THIRDS.stops[-1].index:
        return f"f/{f_number:.0f}"
    return APERTURE_THIRDS.at(index).nominal


def _shutter_limits(settled: Settled) -> Iterator[Limit]:
    times, request = settled.scene.times, settled.scene.request
    if flash_freezes(settled):
        return
    if times.motion_s is not None:
        yield Limit(
            name=LimitName.MOTION,
            sentence=f"{seconds_text(times.motion_s)} or faster stops a subject "
            f"at {request.subject.speed_m_s:g} m/s",
            margin_stops=_faster_stops(settled, times.motion_s),
        )
    if times.hand_s is not None:
        yield Limit(
            name=LimitName.HAND,
            sentence=f"{seconds_text(times.hand_s)} or faster is steady by hand "
            f"at {request.lens.focal_length_mm:g} mm",
            margin_stops=_faster_stops(settled, times.hand_s),
        )


def _aim_limits(settled: Settled) -> Iterator[Limit]:
    scene = settled.scene
    streak = scene.times.streak_s
    if scene.request.aim is Aim.BLUR:
        fastest = max(settled.start, settled.end)
        if streak is None or scene.levels is None:
            why = "the flash stops it" if streak else "nothing moves across the frame"
            yield Limit(
                name=LimitName.STREAK,
                sentence=f"there is no blur to have: {why}",
                margin_stops=-inf,
            )
        else:
            yield Limit(
                name=LimitName.STREAK,
                sentence=f"{seconds_text(streak)} or slower blurs the subject "
                "over a twentieth of the frame",
                margin_stops=log2(2.0 ** (-fastest / 3.0) / streak),
            )
    if scene.request.aim is Aim.THIN_FOCUS:
        home = APERTURE_THIRDS.at(scene.focus.home)
        yield Limit(
            name=LimitName.THIN_FOCUS,
            sentence=f"{home.nominal} or wider throws the background out",
            margin_stops=(home.index - settled.aperture.index) / 3.0,
        )


def _camera_limits(settled: Settled) -> Iterator[Limit]:
    dials = settled.scene.dials
    fastest = max(settled.start, settled.end)
    yield Limit(
        name=LimitName.FASTEST,
        sentence=f"the shutter goes no faster than "
        f"{SHUTTER_THIRDS.at(dials.fastest).nominal}",
        margin_stops=(dials.fastest - fastest) / 3.0,
    )
    yield Limit(
        name=LimitName.SLOWEST,
        sentence=f"the shutter goes no slower than "
        f"{SHUTTER_THIRDS.at(dials.slowest).nominal}",
        margin_stops=(settled.dark - dials.slowest) / 3.0,
    )
    yield Limit(
        name=LimitName.NOISE,
        sentence=f"{ISO_THIRDS.at(dials.highest).nominal} is the highest liked",
        margin_stops=(dials.highest - settled.iso.index) / 3.0,
    )


def _lamp_limits(settled: Settled, lamps: Lamps) -> Iterator[Limit]:
    request = settled.scene.request
    if request.flash is None or lamps.flash is None:
        return
    if not settled.high_speed:
        sync = SHUTTER_THIRDS.at(settled.scene.dials.sync).nominal
        yield Limit(
            name=LimitName.SYNC,
            sentence=f"the flash lights the whole frame at {sync} or slower",
            margin_stops=0.0 - settled.past_sync_stops,
        )
    yield from _power_limits(
        request.flash,
        lamps.flash,
        names=(LimitName.REACH, LimitName.LOWEST_POWER),
        lamp="the flash",
    )
    if request.second_flash is not None and lamps.second is not None:
        yield from _power_limits(
            request.second_flash,
            lamps.second,
            names=(LimitName.SECOND_REACH, LimitName.SECOND_LOWEST_POWER),
            lamp="the second light",
        )


def _power_limits(
    flash: Flash,
    setting: FlashSetting,
    *,
    names: tuple[LimitName, LimitName],
    lamp: str,
) -> Iterator[Limit]:
    needed = setting.needed_power
    yield Limit(
        name=names[0],
        sentence=f"{lamp} reaches {metres_text(setting.reach_m)} "
        f"and stands {metres_text(flash.distance_m)} off",
        margin_stops=log2(flash.power / needed),
    )
    yield Limit(
        name=names[1],
        sentence=f"{lamp} goes down to {power_text(flash.lowest_power)} power",
        margin_stops=log2(needed / flash.lowest_power),
    )


def power_text(power: float) -> str:
    """Return a power as a plain fraction: "1/128"."""
    return f"1/{round(1.0 / power)}"


def _wishes(settled: Settled) -> Iterator[Limit]:
    scene = settled.scene
    softest = scene.focus.diffraction_f_number
    yield Limit(
        name=LimitName.DIFFRACTION,
        sentence=f"f/{softest:.0f} or wider keeps diffraction out of sight",
        margin_stops=2.0 * log2(softest / settled.aperture.exact),
        must=False,
    )
    if scene.flash_is_key and scene.levels is not None:
        under = scene.request.flash.ratio_stops if scene.request.flash else 0.0
        yield Limit(
            name=LimitName.BACKGROUND,
            sentence=f"the ambient stays {stops_text(abs(under))} "
            f"{'under' if under >= 0.0 else 'over'} the flash",
            margin_stops=(settled.wanted - settled.start) / 3.0,
            must=False,
        )


def _faster_stops(settled: Settled, limit_s: float) -> float:
    """Return by how many stops the shutter at the dark end beats a limit."""
    return log2(limit_s) + settled.dark / 3.0
