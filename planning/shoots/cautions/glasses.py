"""The rule about glasses: light that mirrors in them, by the law of reflection."""

from __future__ import annotations

from collections.abc import Iterator

from planning.light.mirrors import glasses_spread_deg, mirror_miss_deg
from planning.shoots.cautions.rule import Scene, set_up_rule
from planning.shoots.choices import Light
from planning.shoots.planned import Caution, PlannedSetUp, SetUpFacts

AWAY_DEG = 20.0  # common practice, no source: how far one turns or moves to be sure


@set_up_rule(
    "glasses",
    "law of reflection, seen from above; front curve of 6 dioptres, from memory",
)
def mirrors_in_glasses(planned: PlannedSetUp, scene: Scene) -> Caution | None:
    """Warn where flash or window mirrors in the glasses of somebody who comes."""
    if not any(one.wears_glasses for one in scene.company.people):
        return None
    facts = planned.facts
    names = [name for name, miss, reach in _lights(facts) if miss <= reach]
    if not names:
        return None
    return Caution(
        title=f"Glasses may mirror the {' and the '.join(names)} in set-up "
        f"{facts.number}",
        sentence=(
            "Seen from above, some part of the lenses throws it into the camera. Lift "
            f"the light, tip the frames down a little, or turn faces {AWAY_DEG:.0f}° "
            "and more away from half-way between light and camera; look at each frame."
        ),
        set_up=facts.number,
    )


def _lights(facts: SetUpFacts) -> Iterator[tuple[str, float, float]]:
    """Give each light's name, how far the glasses miss it, and what still shows it."""
    spread = glasses_spread_deg()
    camera = facts.heading_deg + 180.0
    if facts.flash_name and not facts.lighting.bounced_off:
        light = camera - facts.flash_bearing_deg
        yield "flash", _miss(light, facts), spread
    if facts.lighting.second_name:
        light = camera - facts.lighting.second_bearing_deg
        yield "second flash", _miss(light, facts), spread
    if facts.light == Light.WINDOW and facts.window_sight is not None:
        light, half = facts.window_sight
        yield "window", _miss(light, facts), spread + half / 2.0


def _miss(light_deg: float, facts: SetUpFacts) -> float:
    return mirror_miss_deg(
        light_deg=light_deg,
        camera_deg=facts.heading_deg + 180.0,
        facing_deg=facts.facing_deg,
    )
