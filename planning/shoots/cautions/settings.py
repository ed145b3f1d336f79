"""Rules about settings: what no setting can meet, focus, hand, flash sync."""

from __future__ import annotations

from planning.light.solve import LimitName, Suggestion
from planning.shoots.cautions.rule import COMMON, OWN_FIGURES, Scene, set_up_rule
from planning.shoots.choices import Light
from planning.shoots.planned import Caution, PlannedSetUp, Weight, short_words

THIN_FOCUS_M = 0.15  # common practice, no source: about a head's depth
_OWN_RULE = {
    LimitName.SYNC,
    LimitName.DEPTH,
    LimitName.HAND,
    LimitName.REACH,
    LimitName.SECOND_REACH,
}


@set_up_rule("nothing-fits", OWN_FIGURES)
def nothing_fits(planned: PlannedSetUp, scene: Scene) -> Caution | None:
    """Warn where a limit that must hold is broken by every setting."""
    if planned.trouble:
        return Caution(
            title=f"Set-up {planned.facts.number} cannot be worked out",
            sentence=planned.trouble,
            set_up=planned.facts.number,
        )
    suggestion = planned.suggestion
    if suggestion is None or suggestion.fits or suggestion.broken is None:
        return None
    if suggestion.broken.name in _OWN_RULE:
        return None
    return Caution(
        title=f"Set-up {planned.facts.number}: {suggestion.broken.name} does not hold",
        sentence=_short_by(suggestion, suggestion.broken.name),
        set_up=planned.facts.number,
    )


@set_up_rule(
    "past-sync", "the flash sync time of the camera, as its entry in the kit says"
)
def shutter_past_sync(planned: PlannedSetUp, scene: Scene) -> Caution | None:
    """Warn where the shutter would be faster than flash sync."""
    return _broken(
        planned,
        LimitName.SYNC,
        f"Shutter past flash sync in set-up {planned.facts.number}",
    )


@set_up_rule("thin-focus", OWN_FIGURES)
def focus_too_thin(planned: PlannedSetUp, scene: Scene) -> Caution | None:
    """Warn where focus is thinner than the group."""
    return _broken(
        planned,
        LimitName.DEPTH,
        f"Focus is thinner than the group in set-up {planned.facts.number}",
    )


@set_up_rule("very-thin-focus", COMMON)
def focus_very_thin(planned: PlannedSetUp, scene: Scene) -> Caution | None:
    """Note where focus is thinner than a head, though it covers what it must."""
    if _broken(planned, LimitName.DEPTH, "focus"):
        return None
    suggestion = planned.suggestion
    if suggestion is None or suggestion.zone.total_m >= THIN_FOCUS_M:
        return None
    depth_cm = suggestion.zone.total_m * 100.0
    return Caution(
        title=f"Very thin focus in set-up {planned.facts.number}",
        sentence=(
            f"{depth_cm:.0f} cm at {planned.facts.focal_length_mm:.0f} mm, "
            f"{suggestion.f_number.nominal}, {planned.facts.distance_m:.1f} m. Focus "
            "on the near eye."
        ),
        set_up=planned.facts.number,
        weight=Weight.NOTE,
    )


@set_up_rule("hand-too-slow", "reciprocal of the focal length, common practice")
def hand_too_slow(planned: PlannedSetUp, scene: Scene) -> Caution | None:
    """Warn where the shutter is too slow for the hand."""
    return _broken(
        planned,
        LimitName.HAND,
        f"Too slow to hold by hand in set-up {planned.facts.number}",
    )


@set_up_rule("no-flash", OWN_FIGURES)
def no_flash_chosen(planned: PlannedSetUp, scene: Scene) -> Caution | None:
    """Warn where a set-up by flash has none."""
    if planned.facts.light != Light.FLASH or planned.facts.flash_name:
        return None
    return Caution(
        title=f"No flash chosen for set-up {planned.facts.number}",
        sentence="It is planned by flash. Choose one, and the settings follow.",
        set_up=planned.facts.number,
    )


def _broken(planned: PlannedSetUp, name: LimitName, title: str) -> Caution | None:
    suggestion = planned.suggestion
    if suggestion is None:
        return None
    for limit in suggestion.limits:
        if limit.name == name and limit.must and not limit.met:
            return Caution(
                title=title,
                sentence=_short_by(suggestion, name),
                set_up=planned.facts.number,
            )
    return None


def _short_by(suggestion: Suggestion, name: LimitName) -> str:
    limit = next(one for one in suggestion.limits if one.name == name)
    said = f"{limit.sentence.rstrip('.')}: {short_words(limit)}."
    return " ".join([said, *(one.sentence for one in suggestion.remedies[:2])])
