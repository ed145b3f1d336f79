"""What the light of a set-up asks to be packed: lamps, stands, gels, grey filters."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from math import ceil
from typing import Final

from jobs.kits.models import KitCategory
from planning.checklists.models import Section
from planning.checklists.need import Need, Want
from planning.light.colour import mired_shift
from planning.light.solve import RemedyName
from planning.shoots.planned import PlannedSetUp

ONE_STAND: Final = "stand"
TWO_STANDS: Final = "stand:two"
STAND: Final = Want(called=("stand",), category=KitCategory.SUPPORT)
TRIPOD: Final = Want(called=("tripod",), category=KitCategory.SUPPORT)
GEL: Final = Want(called=("gel", "warm"), category=KitCategory.FILTER)
GREY_FILTER: Final = Want(called=("nd", "grey", "neutral"), category=KitCategory.FILTER)
TRIGGER: Final = Want(called=("trigger", "transmitter"))
FLASH_K: Final = 5500.0
LOW_SUN_K: Final = 3500.0  # the golden hour in published tables, give or take 500 K
LOW_SUN_DEG: Final = 10.0
WARM_GELS: Final = {"⅛": 20.0, "¼": 42.0, "½": 81.0, "full": 159.0}
"""Nominal mired shifts of common warm gels, from memory; makers differ."""


def light_needs(one: PlannedSetUp) -> Iterator[Need]:
    """Give what a set-up's light asks for beside its lamps and boards themselves."""
    yield from _on_stands(one)
    yield from _solver_asks(one)
    yield from _gel(one)


def _on_stands(one: PlannedSetUp) -> Iterator[Need]:
    facts = one.facts
    if not facts.flash_name:
        return
    stands = int(facts.lighting.from_lens_m is None) + bool(facts.lighting.second_name)
    if stands:
        two = stands > 1
        yield Need(
            key=TWO_STANDS if two else ONE_STAND,
            section=Section.GRIP,
            words=(
                "Two light stands, a sandbag each" if two else "Light stand and sandbag"
            ),
            reason=(
                f"Flash in set-up {facts.number}; from wind force 5 no modifier on a "
                "stand"
            ),
            want=replace(STAND, count=stands),
        )
        yield Need(
            key="triggers",
            section=Section.LIGHT,
            words="Triggers, and spare batteries for flash and triggers",
            reason=f"Flash off the camera in set-up {facts.number}",
            want=TRIGGER,
        )


def _solver_asks(one: PlannedSetUp) -> Iterator[Need]:
    suggestion = one.suggestion
    if suggestion is None or suggestion.fits:
        return
    for remedy in suggestion.remedies:
        if remedy.name == RemedyName.TRIPOD and one.facts.support != "Tripod":
            yield Need(
                key="tripod",
                section=Section.GRIP,
                words="Tripod and plate",
                reason=f"Set-up {one.facts.number}: {remedy.sentence}",
                want=TRIPOD,
            )
        if remedy.name == RemedyName.ND_FILTER:
            yield Need(
                key=f"nd:{one.facts.number}",
                section=Section.LIGHT,
                words=f"Grey filter (ND), {ceil(remedy.stops - 0.05)} stops",
                reason=f"Set-up {one.facts.number}: the light is too strong",
                want=GREY_FILTER,
            )


def _gel(one: PlannedSetUp) -> Iterator[Need]:
    sun = one.sun_middle
    if not (one.facts.flash_name and one.in_sun and sun.altitude_deg < LOW_SUN_DEG):
        return
    shift = mired_shift(from_k=FLASH_K, to_k=LOW_SUN_K)
    name = min(WARM_GELS, key=lambda gel: abs(WARM_GELS[gel] - shift))
    yield Need(
        key=f"gel:{name}",
        section=Section.LIGHT,
        words=f"Warm gel, {name}, for each flash",
        reason=f"Set-up {one.facts.number}: flash beside low sun, {shift:+.0f} mired",
        want=GEL,
    )
