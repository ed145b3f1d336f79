"""Rules about flash: red eyes, side shadows, slaves in the sun, pace, reach."""

from __future__ import annotations

from planning.light.flash import red_eye_angle_deg
from planning.light.solve import LimitName
from planning.shoots.cautions.rule import COMMON, OWN_FIGURES, Scene, set_up_rule
from planning.shoots.planned import Caution, PlannedSetUp, Weight, short_words

RED_EYE_DEG = 2.5  # teaching pages say 2 or 2.5; no controlled study
BRIGHT_FOR_SLAVES_EV = 13.0  # common practice, no source: sun, or hazy sun


@set_up_rule("red-eye", "teaching pages of photography say below 2 to 2.5°; no study")
def red_eye(planned: PlannedSetUp, scene: Scene) -> Caution | None:
    """Warn where a flash on the camera sits too near the lens for the distance."""
    facts, suggestion = planned.facts, planned.suggestion
    separation = facts.lighting.from_lens_m
    if separation is None or not facts.flash_name or facts.lighting.bounced_off:
        return None
    if suggestion is None or suggestion.flash is None:
        return None
    angle = red_eye_angle_deg(separation_m=separation, distance_m=facts.distance_m)
    if angle >= RED_EYE_DEG:
        return None
    return Caution(
        title=f"Red eyes likely in set-up {facts.number}",
        sentence=(
            f"Flash and lens are {angle:.1f}° apart, seen from the eyes; below "
            f"{RED_EYE_DEG}° expect it. Bounce the flash, lift it, or step closer."
        ),
        set_up=facts.number,
    )


@set_up_rule("side-shadow", COMMON)
def side_shadow(planned: PlannedSetUp, scene: Scene) -> Caution | None:
    """Warn where the camera is upright and the flash beside the lens, unbounced."""
    facts = planned.facts
    lighting = facts.lighting
    is_beside = lighting.from_lens_m is not None and facts.flash_name
    if not (lighting.camera_upright and is_beside) or lighting.bounced_off:
        return None
    return Caution(
        title=f"Shadow to one side in set-up {facts.number}",
        sentence=(
            "With the camera upright the flash sits beside the lens and throws a hard "
            "shadow on what is behind. Bounce it, or keep it above the lens."
        ),
        set_up=facts.number,
        weight=Weight.NOTE,
    )


@set_up_rule("slave-in-sun", COMMON)
def slave_in_sun(planned: PlannedSetUp, scene: Scene) -> Caution | None:
    """Warn where an optical slave has to see a flash in bright daylight."""
    facts = planned.facts
    brightest = max(planned.start.exposure_value, planned.end.exposure_value)
    if not facts.lighting.is_optical_slave or brightest < BRIGHT_FOR_SLAVES_EV:
        return None
    return Caution(
        title=f"Optical slave in bright light in set-up {facts.number}",
        sentence=(
            f"At EV {brightest:.0f} its eye may not see the other flash. Fire it by "
            "radio or cable, or shade its eye and turn it to the flash."
        ),
        set_up=facts.number,
    )


@set_up_rule("recycle", "recycling time from the kit, as the energy of the power set")
def too_slow_for_pace(planned: PlannedSetUp, scene: Scene) -> Caution | None:
    """Warn where a flash is not ready again as fast as frames are wanted."""
    facts, suggestion = planned.facts, planned.suggestion
    pace = facts.lighting.pace
    if suggestion is None or pace <= 0.0:
        return None
    lamps = (suggestion.flash, suggestion.second_flash)
    slowest = max((lamp.recycle_s or 0.0 for lamp in lamps if lamp), default=0.0)
    if slowest <= 60.0 / pace:
        return None
    return Caution(
        title=f"Flash slower than the pace in set-up {facts.number}",
        sentence=(
            f"It needs {slowest:.1f} s between frames; {pace:.0f} a minute leave "
            f"{60.0 / pace:.1f} s. Halve the power, or shoot slower."
        ),
        set_up=facts.number,
    )


@set_up_rule("out-of-reach", OWN_FIGURES)
def out_of_reach(planned: PlannedSetUp, scene: Scene) -> Caution | None:
    """Warn where a flash cannot light them from where it stands."""
    facts, suggestion = planned.facts, planned.suggestion
    if suggestion is None:
        return None
    for name, lamp in (
        (LimitName.REACH, suggestion.flash),
        (LimitName.SECOND_REACH, suggestion.second_flash),
    ):
        limit = next((one for one in suggestion.limits if one.name == name), None)
        if lamp is None or limit is None or limit.met:
            continue
        which = "Flash" if name == LimitName.REACH else "Second flash"
        return Caution(
            title=f"{which} out of reach in set-up {facts.number}",
            sentence=(
                f"It is {short_words(limit)}; at full power it reaches "
                f"{lamp.reach_m:.1f} m. Bring it closer or take its modifier off."
            ),
            set_up=facts.number,
        )
    return None
