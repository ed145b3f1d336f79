"""What a worked-out set-up says: settings, their range, the light they stand on."""

from __future__ import annotations

from math import inf

from planning.light.solve import Suggestion
from planning.shoots.lamp_words import lamps_line
from planning.shoots.planned import Fallback, PlannedSetUp, short_words


def settings_words(one: PlannedSetUp) -> str:
    """Return f-number and shutter, from start to end where the light changes."""
    suggestion = one.suggestion
    if suggestion is None:
        return "–"
    start = dial_words(suggestion.shutter.nominal)
    words = f"{suggestion.f_number.nominal}  {start}"
    if suggestion.shutter_end is None:
        return words
    end = dial_words(suggestion.shutter_end.nominal)
    return words if end == start else f"{words} → {end}"


def short_settings(suggestion: Suggestion) -> str:
    """Return settings in one short line: "f/2.8 1/125 ISO 800"."""
    shutter = dial_words(suggestion.shutter.nominal)
    return f"{suggestion.f_number.nominal} {shutter} {suggestion.iso.nominal}"


def fallback_words(fallback: Fallback) -> str:
    """Return a compact line for paper: "If overcast: f/2.8 1/125 ISO 800."

    Nothing where the settings stay as they are; a limit that they break is named.
    """
    now = fallback.suggestion
    if now is None or not fallback.differs:
        return ""
    broken = f", {fallback.gives}" if now.broken else ""
    return f"If {fallback.sky_words}: {short_settings(now)}{broken}."


def range_words(one: PlannedSetUp) -> str:
    """Return the shutters from the light's bright bound to its dark one.

    Nothing where a flash holds the exposure, or where both bounds are one dial mark.
    """
    suggestion = one.suggestion
    if suggestion is None or one.is_flash_lit:
        return ""
    fast, slow = suggestion.shutter_bright, suggestion.shutter_dark
    if fast == slow:
        return ""
    return f"{dial_words(slow.nominal)} to {dial_words(fast.nominal)}"


def ev_words(one: PlannedSetUp) -> str:
    """Return the EV that a set-up stands on."""
    if one.is_flash_lit:
        return "flash, steady"
    start, end = one.start.exposure_value, one.end.exposure_value
    if abs(start - end) < 0.1:
        return f"EV {signed(start)}"
    return f"EV {signed(start)} → {signed(end)}"


def dial_words(nominal: str) -> str:
    """Return a shutter as its dial says it: 1/60, but 2 s."""
    return nominal.removesuffix(" s") if nominal.startswith("1/") else nominal


def light_words(one: PlannedSetUp) -> str:
    """Return whose light it is, with what helps it, and what carries the camera."""
    parts = [one.facts.light.label]
    if one.facts.flash_name:
        parts.append(one.facts.flash_name)
    if one.facts.lighting.second_name:
        parts.append(one.facts.lighting.second_name)
    if one.facts.board_name:
        parts.append(one.facts.board_name)
    parts.append(one.facts.support.lower())
    return ", ".join(parts)


def why_words(one: PlannedSetUp, *, brief: bool = False) -> str:
    """Return on which light the settings stand, what is sharp, where the sun is.

    Paper has room for the `brief` words only: one convention of contrast, not two.
    """
    suggestion = one.suggestion
    if suggestion is None:
        return one.trouble
    misfit = misfit_words(suggestion)
    zone = suggestion.zone
    sharp = sharp_words(zone.near_m, zone.far_m)
    sharp = f"{sharp}, sitter {one.facts.distance_m:g} m."
    if one.is_flash_lit and suggestion.ambient_under_stops is not None:
        under = suggestion.ambient_under_stops
        end = suggestion.ambient_under_end_stops
        drop = f"{under:.1f}" if end is None else f"{under:.1f} → {end:.1f}"
        below = "under" if brief else "under the flash"
        why = f"{misfit}Daylight {drop} stops {below}. {sharp}"
    else:
        why = f"{misfit}{ev_words(one)} {_where(one)}. {sharp} {one.sun_words}."
    parts = (why, _shift(one), lamps_line(one, brief=brief))
    return " ".join(part for part in parts if part)


def sharp_words(near_m: float, far_m: float) -> str:
    """Return what is sharp: to a tenth, finer where a tenth would hide the depth."""
    if far_m == inf:
        return f"Sharp {near_m:.1f}–∞ m"
    for digits in (1, 2):
        near, far = f"{near_m:.{digits}f}", f"{far_m:.{digits}f}"
        if near != far:
            return f"Sharp {near}–{far} m"
    return f"Sharp at {near} m only"


def misfit_words(suggestion: Suggestion) -> str:
    """Return which limit the settings break, and by how much; nothing if they fit."""
    if suggestion.fits or suggestion.broken is None:
        return ""
    broken = suggestion.broken
    return f"Does not hold: {broken.name}, {short_words(broken)}. "


def _shift(one: PlannedSetUp) -> str:
    words = one.shift_words
    return f"{words[:1].upper()}{words[1:]}." if words else ""


def _where(one: PlannedSetUp) -> str:
    if one.in_sun:
        return "in the sun"
    return {
        "open_sky": "under open sky",
        "open_shade": "in open shade",
        "window": "by the window",
        "flash": "beside the flash",
    }[one.facts.light.value]


def signed(value: float) -> str:
    """Return a figure to a tenth, with a true minus."""
    return f"{value:.1f}".replace("-", "−")
