"""What a worked-out plan asks to be packed and prepared, each with its reason."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from jobs.kits.models import KitCategory, KitItem
from planning.checklists.before import Evening, before_needs
from planning.checklists.light_needs import (
    ONE_STAND,
    STAND,
    TRIPOD,
    TWO_STANDS,
    light_needs,
)
from planning.checklists.models import Section
from planning.checklists.need import Need
from planning.shoots.lighting import KIT_FIELDS
from planning.shoots.planned import PlannedSetUp, PlannedShoot

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

PLANNED = (
    KitCategory.LENS,
    KitCategory.FLASH,
    KitCategory.MODIFIER,
    KitCategory.BOARD,
)
"""What set-ups name one by one: a spare of these is worth a word."""


def needs_of(
    shoot: PlannedShoot, held: Iterable[KitItem], evening: Evening
) -> list[Need]:
    """Return everything that a plan and the kit held for it ask for, in order."""
    items = list(held)
    needs = [*_held(shoot, items), *_from_set_ups(shoot, items), *_after_dark(shoot)]
    needs += before_needs(shoot, items, evening)
    unique = {need.key: need for need in needs}
    if TWO_STANDS in unique:
        unique.pop(ONE_STAND, None)
    return list(unique.values())


def _held(shoot: PlannedShoot, items: Iterable[KitItem]) -> Iterator[Need]:
    used = _used(shoot)
    for item in items:
        idle = bool(used) and item.category in PLANNED and item not in used
        notes = [_where(item), "no set-up uses it" if idle else ""]
        yield Need(
            key=f"item:{item.pk}",
            section=SECTION_OF[KitCategory(item.category)],
            words=item.name,
            reason="; ".join(filter(None, notes)),
            kit_item_id=item.pk,
            bag=item.bag,
        )


def _where(item: KitItem) -> str:
    places = (("Bag", item.bag), ("Shelf", item.shelf))
    return ", ".join(f"{word}: {name}" for word, name in places if name)


def _from_set_ups(shoot: PlannedShoot, items: list[KitItem]) -> Iterator[Need]:
    yield from _not_held(shoot, {item.pk for item in items})
    has_support = any(
        item.category == KitCategory.SUPPORT and not STAND.fits(item) for item in items
    )
    for one in shoot.set_ups:
        if one.facts.support == "Tripod" and not has_support:
            yield Need(
                key="tripod",
                section=Section.GRIP,
                words="Tripod and plate",
                reason=_tripod_reason(one),
                want=TRIPOD,
            )
        yield from light_needs(one)


def _not_held(shoot: PlannedShoot, held: set[int]) -> Iterator[Need]:
    """Give the items that set-ups are planned with, and that nobody keeps for them."""
    for item, numbers in _used(shoot).items():
        if item.pk in held:
            continue
        yield Need(
            key=f"item:{item.pk}",
            section=SECTION_OF[KitCategory(item.category)],
            words=item.name,
            reason=f"{_use_it(numbers)}; it is not held for this session",
            kit_item_id=item.pk,
        )


def _used(shoot: PlannedShoot) -> dict[KitItem, list[int]]:
    """Return what the set-ups are planned with, and the numbers of those."""
    used: dict[KitItem, list[int]] = {}
    for number, row in enumerate(shoot.rows, start=1):
        for field in KIT_FIELDS:
            item: KitItem | None = getattr(row, field)
            if item is not None:
                used.setdefault(item, []).append(number)
    return used


def _use_it(numbers: list[int]) -> str:
    different = [str(number) for number in dict.fromkeys(numbers)]
    if len(different) == 1:
        return f"Set-up {different[0]} uses it"
    return f"Set-ups {', '.join(different[:-1])} and {different[-1]} use it"


def _tripod_reason(one: PlannedSetUp) -> str:
    if one.suggestion is None:
        return f"Set-up {one.facts.number} is planned on one"
    slowest = one.suggestion.shutter_end or one.suggestion.shutter
    return f"Set-up {one.facts.number} needs {slowest.nominal}"


def _after_dark(shoot: PlannedShoot) -> Iterator[Need]:
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
