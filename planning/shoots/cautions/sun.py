"""Rules about the sun and faces: in the frame, in their eyes, through leaves."""

from __future__ import annotations

from planning.shoots.cautions.rule import COMMON, Scene, set_up_rule
from planning.shoots.choices import Light, Shade
from planning.shoots.daylight import turn_deg
from planning.shoots.planned import Caution, PlannedSetUp, Weight

SQUINT_DEG = 45.0  # common practice, no source
SQUINT_BELOW_DEG = 50.0
FRAME_MARGIN_DEG = 5.0
SUN_MATTERS_ABOVE_DEG = 2.0


@set_up_rule(
    "sun-in-frame", "common caution of makers of optical instruments, from memory"
)
def sun_in_the_frame(planned: PlannedSetUp, scene: Scene) -> Caution | None:
    """Warn where the sun is within the field of view: eyes, sensor, flare."""
    sun, facts = planned.sun_middle, planned.facts
    turn = abs(turn_deg(sun.azimuth_deg, facts.heading_deg))
    inside = turn <= facts.frame_deg / 2 + FRAME_MARGIN_DEG
    low = sun.altitude_deg < facts.frame_deg / 2 + FRAME_MARGIN_DEG + 10.0
    if not (sun.is_shining and inside and low):
        return None
    if sun.altitude_deg < SUN_MATTERS_ABOVE_DEG or facts.light == Light.WINDOW:
        return None
    return Caution(
        title=f"Sun in or near the frame in set-up {facts.number}",
        sentence=(
            "Never aim an optical viewfinder or a long lens at the sun: it harms eyes "
            "at once. Block it behind a sitter or turn; shade the lens against flare."
        ),
        set_up=facts.number,
    )


@set_up_rule("squint", COMMON)
def sun_in_their_eyes(planned: PlannedSetUp, scene: Scene) -> Caution | None:
    """Warn where the sitters look into the sun, under a sky that lets it through."""
    sun, facts = planned.sun_middle, planned.facts
    turn = abs(turn_deg(sun.azimuth_deg, facts.facing_deg))
    if not (planned.in_sun and scene.sun_shows) or turn > SQUINT_DEG:
        return None
    if not SUN_MATTERS_ABOVE_DEG < sun.altitude_deg < SQUINT_BELOW_DEG:
        return None
    return Caution(
        title=f"Sun in the sitters’ eyes in set-up {facts.number}",
        sentence=(
            f"It stands {sun.altitude_deg:.0f}° up, {turn:.0f}° off where they look. "
            "Turn them, or count to three with eyes closed."
        ),
        set_up=facts.number,
    )


@set_up_rule("dappled", COMMON)
def dappled_under_a_tree(planned: PlannedSetUp, scene: Scene) -> Caution | None:
    """Note where leaves shade the sitters from a sun that shines: spots on faces."""
    facts, sun = planned.facts, planned.sun_middle
    if facts.light != Light.OPEN_SKY or facts.shade != Shade.TREE:
        return None
    if not (scene.sun_shows and sun.is_shining and facts.is_shaded(sun.at)):
        return None
    return Caution(
        title=f"Spots of sun through leaves in set-up {facts.number}",
        sentence=(
            "A tree’s shade is seldom whole. Look at each face, step deeper in, or "
            "hold a diffuser over them."
        ),
        set_up=facts.number,
        weight=Weight.NOTE,
    )
