"""What a worked-out set-up says of its flashes and its board."""

from __future__ import annotations

from collections.abc import Iterator

from planning.light.flash import LightingRatio
from planning.light.solve import FlashSetting
from planning.shoots.choices import Metering
from planning.shoots.evenness import EVEN_STOPS, GroupFalloff
from planning.shoots.planned import PlannedSetUp

MOVING = {"Walking", "Running", "Jumping"}


def lamps_line(one: PlannedSetUp, *, brief: bool = False) -> str:
    """Return power, distance and contrast in one line, briefly for paper."""
    suggestion = one.suggestion
    if suggestion is None:
        return ""
    said = [*_lamps(one)]
    if not brief and one.falloff and not one.falloff.is_even:
        said.append(falloff_words(one.falloff))
    if one.fill.around is not None and (under := one.fill.under_stops) is not None:
        said.append(f"Lit to shadow side {_to_one(2.0**under)} ({under:.1f} stops).")
    elif suggestion.ratio:
        said.append(f"{ratio_words(suggestion.ratio, brief=brief)}.")
    if (lift := one.fill.lift_stops) is not None:
        said.append(f"The board lifts the shadow side by {lift:.1f} stops.")
    return " ".join(said)


def ratio_words(ratio: LightingRatio, *, brief: bool = False) -> str:
    """Return a contrast in both conventions, each named; in the first if `brief`."""
    if brief:
        return f"Key to fill {_to_one(ratio.incident_key_to_fill)} each by itself"
    return (
        f"Key to fill {_to_one(ratio.incident_key_to_fill)} each by itself, lit to "
        f"shadow side {_to_one(ratio.key_plus_fill_to_fill)} "
        f"({ratio.lit_minus_shadow_stops:.1f} stops)"
    )


def lamp_reasons(one: PlannedSetUp) -> tuple[str, ...]:
    """Return what stands behind the flashes' settings, sentence by sentence."""
    suggestion = one.suggestion
    if suggestion is None:
        return ()
    said = []
    if suggestion.flash:
        said += [metering_reason(one), *_behind(one, suggestion.flash)]
        if measured := one.facts.lighting.measured:
            said.append(f"By test frame, {measured}.")
    if one.falloff:
        said.append(falloff_words(one.falloff))
    return (*said, *fill_reasons(one))


def falloff_words(falloff: GroupFalloff) -> str:
    """Return how a group's light falls off, and the distance that evens it."""
    stops = falloff.stops
    where = "Nearest to farthest row" if falloff.by_window else "Front to back row"
    said = f"{where} {stops:.1f} {'stop' if stops < 1.05 else 'stops'}"
    if falloff.remedy_m is None:
        return f"{said}."
    move, costs = "the light", "more power"
    if falloff.by_window:
        move, costs = "the group", "less light"
    return (
        f"{said}: move {move} back to {falloff.remedy_m:.1f} m for {EVEN_STOPS:g}, "
        f"{falloff.costs_stops:.1f} stops {costs}."
    )


def fill_reasons(one: PlannedSetUp) -> Iterator[str]:
    """Give what board and walls do to the shadow side."""
    fill, lighting = one.fill, one.facts.lighting
    alone = fill.under_alone_stops
    if alone is not None and fill.around is None:
        yield (
            f"The room’s walls alone leave the shadow side {alone:.1f} stops under the "
            "lit side."
        )
    elif alone is not None:
        with_wall = ", ground and the wall" if fill.wall else " and ground"
        yield (
            f"Sky{with_wall} leave the shadow side {alone:.1f} stops under the lit "
            f"side, {_to_one(2.0**alone)}; what else stands about is not counted."
        )
    if not lighting.board_size:
        return
    board = f"{one.facts.board_name} at {lighting.board_distance_m:g} m"
    if lighting.board_is_dark:
        yield f"{board} keeps light off the shadow side; how much, a reading shows."
    elif fill.lift_stops is not None:
        yield (
            f"{board} lifts the shadow side by {fill.lift_stops:.1f} stops, to "
            f"{fill.under_stops:.1f} under the lit side."
        )
    elif not fill.board:
        yield f"{board} gives the shadow side nothing: the light does not reach it."
    elif one.facts.flash_name:
        yield f"{board} is counted into the fill."
    else:
        yield (
            f"{board} brings the shadow side to {fill.under_stops:.1f} stops under the "
            "lit side; walls and ground are not counted."
        )


def metering_reason(one: PlannedSetUp) -> str:
    """Return who sets the power, and why, or why the other way would serve better.

    Common practice, no source.
    """
    is_manual = one.facts.lighting.metering == Metering.MANUAL
    if one.facts.movement_words in MOVING:
        if is_manual:
            return (
                "Manual power, though they move: at half the distance they get two "
                "stops more. Dedicated metering would follow them."
            )
        return "Dedicated metering: they move, and it follows their distance."
    if is_manual:
        return "Manual power: they keep their distance, so one frame is as the next."
    return (
        "Dedicated metering, though they keep their distance: white or dark clothes "
        "sway it. Manual power would hold from frame to frame."
    )


def _lamps(one: PlannedSetUp) -> Iterator[str]:
    facts, suggestion = one.facts, one.suggestion
    lighting = facts.lighting
    if suggestion and suggestion.flash:
        way = f"{lighting.path_m:g} m"
        if lighting.bounced_off:
            way += f" by the {lighting.bounced_off}"
        through = f", {lighting.modifier_name}" if lighting.modifier_name else ""
        yield f"Flash {suggestion.flash.mark} at {way}{through}."
    if suggestion and suggestion.second_flash:
        name = lighting.second_modifier_name
        through = f", {name}" if name else ""
        yield (
            f"Second flash {suggestion.second_flash.mark} at "
            f"{lighting.second_distance_m:g} m, "
            f"{side_words(lighting.second_bearing_deg)}{through}."
        )


def side_words(bearing_deg: float) -> str:
    """Return where a lamp stands: "45° camera right"."""
    if abs(bearing_deg) < 1.0:
        return "at the camera"
    side = "right" if bearing_deg > 0 else "left"
    return f"{abs(bearing_deg):.0f}° camera {side}"


def _behind(one: PlannedSetUp, flash: FlashSetting) -> Iterator[str]:
    if flash.loss_stops > 0.05:
        yield f"Modifiers, bounce and sync take {flash.loss_stops:.1f} stops."
    if flash.high_speed_sync:
        yield "High-speed sync: the shutter is past the camera’s sync time."
    if flash.recycle_s is not None:
        yield (
            f"Ready again in {flash.recycle_s:.1f} s; {one.facts.lighting.pace:.0f} "
            "frames a minute are wanted."
        )


def _to_one(ratio: float) -> str:
    words = f"{ratio:.1f}".removesuffix(".0")
    return f"{words}:1"
