"""Rules about the place: leave to be there, tides, wheels, dogs, green from below."""

from __future__ import annotations

from collections.abc import Iterator

from planning.shoots.cautions.rule import COMMON, Scene, rule, set_up_rule
from planning.shoots.choices import Light, Movement, Shade
from planning.shoots.planned import Caution, PlannedSetUp, Weight
from planning.sites.grounds import Ground

HOT_GROUNDS = frozenset({Ground.ASPHALT, Ground.CONCRETE, Ground.SAND})
SOFT_GROUNDS = frozenset({Ground.SAND, Ground.WET_SAND, Ground.SNOW})
HOT_GROUND_AIR_C = 25.0
GREEN_ABOVE_DEG = 10.0  # common practice, no source
SITTING = Movement.STILL.label


@rule("permission", "common practice; who may allow it by local law")
def nobody_asked(scene: Scene) -> Iterator[Caution]:
    """Note where nothing is written of who allows pictures on the land."""
    if scene.indoors or scene.place.permission_is_written:
        return
    yield Caution(
        title="Nothing is written of leave to work here",
        sentence=(
            "Ask whoever owns or keeps the land, and note who allowed it under the "
            "place’s access. Parks, estates, shores and railways often want a permit "
            "and cover for harm to others; local rules hold."
        ),
        weight=Weight.NOTE,
    )


@rule("tide", "common practice; official tide tables hold")
def look_up_the_tide(scene: Scene) -> Iterator[Caution]:
    """Remind of the tide on a shore; it is not worked out here."""
    if scene.indoors or not scene.place.is_shore:
        return
    yield Caution(
        title="By the water: look the tide up",
        sentence=(
            "Times of high and low water are in the official tide tables, not here. "
            "Know when the way back is cut off, and heed warnings of surf and wind."
        ),
        weight=Weight.NOTE,
    )


@rule("wheelchair", COMMON)
def way_for_a_wheelchair(scene: Scene) -> Iterator[Caution]:
    """Warn where somebody comes by wheelchair and the way is soft or not described."""
    if not any(one.uses_wheelchair for one in scene.company.people):
        return
    soft = not scene.indoors and scene.place.ground in SOFT_GROUNDS
    if scene.place.step_free_is_written and not soft:
        return
    why = (
        "Sand and snow do not carry wheels: find a firm stretch, or another place"
        if soft
        else "The place’s entry says nothing of steps, ramps or ground: ask there"
    )
    yield Caution(
        title="Somebody comes by wheelchair",
        sentence=(
            f"{why}. Look at parking, doors and toilets too, ask them what they need, "
            "and bring the camera down to their eyes."
        ),
    )


@rule("dog", COMMON)
def a_dog_comes(scene: Scene) -> Iterator[Caution]:
    """Note what a dog needs, and what needs to be kept from it."""
    if not scene.company.dog_comes:
        return
    yield Caution(
        title="A dog comes",
        sentence=(
            "Its owner stays by it, with a lead as the place wants it. Tie it to no "
            "stand, keep cables out of its way, bring water; ask who fears or does not "
            "bear dogs. Its pictures first, then it may rest."
        ),
        weight=Weight.NOTE,
    )


@rule(
    "dog-hot-ground",
    "Berens 1970, JAMA 214: asphalt in the sun at 52 °C with air at 25 °C, from memory",
)
def ground_too_hot_for_paws(scene: Scene) -> Iterator[Caution]:
    """Warn of ground that the sun heats past what paws bear."""
    seen, ground = scene.weather_outdoors, scene.place.ground
    if seen is None or seen.temperature_c is None or ground not in HOT_GROUNDS:
        return
    in_sun = any(one.sun_middle.is_shining for one in scene.set_ups)
    warm = seen.temperature_c >= HOT_GROUND_AIR_C
    if scene.company.dog_comes and warm and in_sun and scene.sun_shows:
        yield Caution(
            title="The ground may be too hot for the dog",
            sentence=(
                "Dark paving and dry sand in the sun grow far hotter than the air. Lay "
                "the back of a hand on it for seven seconds; if you cannot, neither "
                "can paws. Stay on grass or in shade."
            ),
        )


@set_up_rule("green", COMMON)
def green_from_below(planned: PlannedSetUp, scene: Scene) -> Caution | None:
    """Note sunlit grass near faces, or leaves round about: both throw green up."""
    facts, sun = planned.facts, planned.sun_middle
    outdoors = facts.light in {Light.OPEN_SKY, Light.OPEN_SHADE} and not scene.indoors
    near = facts.movement_words == SITTING or facts.shade == Shade.TREE
    if not (outdoors and near and scene.place.ground == Ground.GRASS):
        return None
    if not (scene.sun_shows and sun.is_shining and sun.altitude_deg > GREEN_ABOVE_DEG):
        return None
    return Caution(
        title=f"Green from grass and leaves in set-up {facts.number}",
        sentence=(
            "Sunlit grass lights faces from below, the nearer the greener. Lay a white "
            "cloth or board at their knees, let them stand, or take a frame with a "
            "grey card and set the white by it."
        ),
        set_up=facts.number,
        weight=Weight.NOTE,
    )
