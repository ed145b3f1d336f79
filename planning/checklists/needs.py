"""What a worked-out plan asks to be packed and prepared, each with its reason."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from math import ceil

from jobs.kits.models import KitCategory, KitItem
from planning.checklists.models import Section
from planning.shoots.planned import PlannedSetUp, PlannedShoot

FRAMES_PER_BATTERY = 500  # common practice, no source; CIPA DC-002 ratings vary
MEGABYTES_PER_FRAME = 40
CARD_MEGABYTES = 64_000
RESERVE = 1.3  # common practice, no source: a third more than expected

SECTION_OF = {
    KitCategory.CAMERA: Section.CAMERA,
    KitCategory.LENS: Section.CAMERA,
    KitCategory.POWER: Section.CAMERA,
    KitCategory.FLASH: Section.LIGHT,
    KitCategory.MODIFIER: Section.LIGHT,
    KitCategory.BOARD: Section.LIGHT,
    KitCategory.FILTER: Section.LIGHT,
    KitCategory.SUPPORT: Section.GRIP,
    KitCategory.OTHER: Section.GRIP,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Need:
    """One thing to pack or do; `key` stays the same while the reason stands."""

    key: str
    section: Section
    words: str
    reason: str = ""
    kit_item_id: int | None = None


def needs_of(shoot: PlannedShoot, held: Iterable[KitItem]) -> list[Need]:
    """Return everything that a plan and the kit held for it ask for, in order."""
    items = list(held)
    needs = [*_held(items), *_from_set_ups(shoot, items), *_power(shoot, items)]
    needs += _always(shoot)
    unique = {need.key: need for need in needs}
    return list(unique.values())


def _held(items: Iterable[KitItem]) -> Iterator[Need]:
    for item in items:
        yield Need(
            key=f"item:{item.pk}",
            section=SECTION_OF[KitCategory(item.category)],
            words=item.name,
            reason=f"Bag: {item.bag}" if item.bag else "",
            kit_item_id=item.pk,
        )


def _from_set_ups(shoot: PlannedShoot, items: list[KitItem]) -> Iterator[Need]:
    categories = {item.category for item in items}
    names = {item.name for item in items}
    for one in shoot.set_ups:
        if one.facts.support == "Tripod" and KitCategory.SUPPORT not in categories:
            yield Need(
                key="tripod",
                section=Section.GRIP,
                words="Tripod and plate",
                reason=_tripod_reason(one),
            )
        if one.facts.flash_name and one.facts.flash_name not in names:
            yield _missing("flash", Section.LIGHT, one.facts.flash_name, one)
        if one.facts.board_name and one.facts.board_name not in names:
            yield _missing("board", Section.LIGHT, one.facts.board_name, one)
        if one.facts.flash_name:
            yield Need(
                key="stand",
                section=Section.GRIP,
                words="Light stand and sandbag",
                reason=(
                    f"Flash in set-up {one.facts.number}; from wind force 5 no "
                    "modifier on a stand"
                ),
            )


def _tripod_reason(one: PlannedSetUp) -> str:
    if one.suggestion is None:
        return f"Set-up {one.facts.number} is planned on one"
    slowest = one.suggestion.shutter_end or one.suggestion.shutter
    return f"Set-up {one.facts.number} needs {slowest.nominal}"


def _missing(kind: str, section: Section, name: str, one: PlannedSetUp) -> Need:
    return Need(
        key=f"{kind}:{name}"[:80],
        section=section,
        words=name,
        reason=f"Set-up {one.facts.number} uses it; it is not held for this session",
    )


def _power(shoot: PlannedShoot, items: list[KitItem]) -> Iterator[Need]:
    frames = sum(one.facts.frames for one in shoot.set_ups)
    if not frames:
        return
    camera = next((one for one in items if one.category == KitCategory.CAMERA), None)
    per_battery = (camera and camera.frames_per_battery) or FRAMES_PER_BATTERY
    per_frame = (camera and camera.megabytes_per_frame) or MEGABYTES_PER_FRAME
    batteries = max(ceil(frames * RESERVE / per_battery), 1) + 1
    cards = max(ceil(frames * RESERVE * per_frame / CARD_MEGABYTES), 1) + 1
    yield Need(
        key="batteries",
        section=Section.CAMERA,
        words=f"Camera batteries, {batteries}",
        reason=f"{frames} frames at about {per_battery} each, and a spare",
    )
    yield Need(
        key="cards",
        section=Section.CAMERA,
        words=f"Cards, {cards}, formatted",
        reason=f"{frames} frames at about {per_frame} MB on 64 GB cards, and a spare",
    )


def _always(shoot: PlannedShoot) -> Iterator[Need]:
    yield Need(
        key="charge",
        section=Section.BEFORE,
        words="Charge everything, set the cameras’ clocks",
        reason="The evening before",
    )
    sunset = shoot.light.day.sunset
    if sunset and shoot.ends_at > sunset:
        yield Need(
            key="torch",
            section=Section.GRIP,
            words="Head torch",
            reason="The session ends after sunset",
        )
    yield Need(
        key="releases",
        section=Section.GRIP,
        words="Release forms and a pen",
        reason="For whoever may be shown",
    )
