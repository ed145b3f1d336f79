"""Rules about light that changes: it falls, it goes, the sun sets."""

from __future__ import annotations

from collections.abc import Iterator

from planning.shoots.cautions.rule import COMMON, Scene, rule, set_up_rule
from planning.shoots.cautions.said import clock_in, lost_words
from planning.shoots.planned import Caution, PlannedSetUp, Weight

FALLS_FAST_STOPS = 1.0  # common practice, no source: a stop is one full setting


@set_up_rule("falls-fast", COMMON)
def light_falls_fast(planned: PlannedSetUp, scene: Scene) -> Caution | None:
    """Warn where daylight changes by a stop or more within a set-up."""
    change = planned.end.exposure_value - planned.start.exposure_value
    if abs(change) < FALLS_FAST_STOPS or planned.is_flash_lit:
        return None
    verb = "falls" if change < 0 else "rises"
    return Caution(
        title=f"Light {verb} fast in set-up {planned.facts.number}",
        sentence=(
            f"By {abs(change):.1f} stops in {planned.facts.minutes} minutes. Check "
            "the exposure every few frames."
        ),
        set_up=planned.facts.number,
    )


@set_up_rule("background-darkens", COMMON)
def background_darkens(planned: PlannedSetUp, scene: Scene) -> Caution | None:
    """Warn where flash holds the faces while the daylight behind goes."""
    change = planned.end.exposure_value - planned.start.exposure_value
    if not planned.is_flash_lit or change > -FALLS_FAST_STOPS:
        return None
    return Caution(
        title=f"Background goes dark in set-up {planned.facts.number}",
        sentence=(
            f"The flash holds the faces; what lies behind drops by {-change:.1f} "
            "stops. Take the frames with a view first."
        ),
        set_up=planned.facts.number,
    )


@rule("sun-lost", "the sun's path and this place's skyline")
def sun_lost(scene: Scene) -> Iterator[Caution]:
    """Warn where a set-up in the sun outlasts it."""
    lost, zone = scene.lost, scene.zone
    if lost is None:
        return
    for one in scene.set_ups:
        if one.in_sun_at_start and one.facts.ends_at > lost.earliest_at:
            judged = ", skyline estimated" if lost.estimated else ""
            behind = f" behind {lost.behind}" if lost.behind else ""
            yield Caution(
                title=f"Set-up {one.facts.number} may run out of sun",
                sentence=(
                    f"It runs to {clock_in(one.facts.ends_at, zone)}; the sun goes"
                    f"{behind} {lost_words(lost, zone)}{judged}. Start it earlier."
                ),
                set_up=one.facts.number,
            )


@rule("sunset-inside", "the sun's path: upper limb at the horizon")
def sunset_inside(scene: Scene) -> Iterator[Caution]:
    """Note where the sun sets between start and end of the session."""
    sunset, (start, end) = scene.sunset, scene.span
    if sunset and start < sunset < end:
        after = int((end - sunset).total_seconds() // 60)
        yield Caution(
            title="Sunset inside the session",
            sentence=(
                f"The sun sets at {clock_in(sunset, scene.zone)}; the last {after} "
                "minutes are dusk."
            ),
            weight=Weight.NOTE,
        )
