"""Rules that look at a worked-out plan and say what may go wrong.

Each rule stands in the module of its theme, with a stable name and its source; `RULES`
lists them in the order in which they are told. A figure that is a habit of the trade
and not a published limit says so.
"""

from __future__ import annotations

from planning.shoots.cautions import (
    changing,
    flash,
    glasses,
    ground,
    people,
    settings,
    sun,
    times,
    weather,
)
from planning.shoots.cautions.rule import PlaceFacts, Rule, Scene
from planning.shoots.cautions.said import lost_words
from planning.shoots.planned import Caution, Weight

__all__ = ["RULES", "PlaceFacts", "Rule", "Scene", "cautions_for", "lost_words"]

RULES: tuple[Rule, ...] = (
    sun.sun_in_the_frame,
    people.flash_sensitive,
    people.bare_flash_and_a_baby,
    people.children_without_guardian,
    people.must_not_be_shown,
    people.nap_in_the_session,
    ground.way_for_a_wheelchair,
    ground.ground_too_hot_for_paws,
    weather.wind_and_stands,
    weather.rain_and_mains,
    weather.heat,
    weather.sun_on_skin,
    changing.sun_lost,
    times.overlaps,
    times.outside,
    times.access_begins,
    times.access_ends,
    settings.nothing_fits,
    settings.shutter_past_sync,
    settings.focus_too_thin,
    settings.hand_too_slow,
    settings.no_flash_chosen,
    flash.out_of_reach,
    flash.red_eye,
    flash.slave_in_sun,
    flash.too_slow_for_pace,
    flash.side_shadow,
    sun.sun_in_their_eyes,
    glasses.mirrors_in_glasses,
    changing.light_falls_fast,
    changing.background_darkens,
    changing.sunset_inside,
    sun.dappled_under_a_tree,
    ground.green_from_below,
    settings.focus_very_thin,
    weather.cold,
    ground.a_dog_comes,
    ground.look_up_the_tide,
    ground.nobody_asked,
)


def cautions_for(scene: Scene) -> tuple[Caution, ...]:
    """Return what all rules give, risks before notes."""
    given = [caution for rule in RULES for caution in rule.look(scene)]
    return tuple(sorted(given, key=lambda one: one.weight is not Weight.RISK))
