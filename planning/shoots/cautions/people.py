"""Rules about who is coming: babies, flashing light, guardians, naps, what is shown.

Nothing here is advice of a physician or a lawyer: licensed practice and local rules
hold. Titles name nobody: letters repeat them to more eyes than see the plan.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime

from jobs.attending.company import Comer
from planning.shoots.cautions.rule import Scene, rule, set_up_rule
from planning.shoots.cautions.said import clock_in
from planning.shoots.planned import Caution, PlannedSetUp, SetUpFacts


@set_up_rule(
    "flash-sensitive",
    "advice of epilepsy charities, from memory; a physician’s word holds",
)
def flash_sensitive(planned: PlannedSetUp, scene: Scene) -> Caution | None:
    """Warn of flash where somebody told that flashing light harms them."""
    facts = planned.facts
    told = any(one.flash_sensitive for one in scene.company.people)
    if not told or not facts.flash_name:
        return None
    return Caution(
        title=f"Flash in set-up {facts.number}, and somebody is sensitive to it",
        sentence=(
            "Flashing light can trigger seizures. Work without flash while they are "
            "near, red-eye and focus flashes off too; ask them first. In a seizure "
            "keep them from harm, time it, and call for help by local advice."
        ),
        set_up=facts.number,
    )


@set_up_rule("baby-flash", "common practice, no source; ask a physician in doubt")
def bare_flash_and_a_baby(planned: PlannedSetUp, scene: Scene) -> Caution | None:
    """Warn of a flash without modifier or bounce where a baby comes."""
    facts = planned.facts
    if not _is_bare(facts) or not any(one.is_baby for one in scene.company.people):
        return None
    return Caution(
        title=f"Bare flash and a baby in set-up {facts.number}",
        sentence=(
            "Never fire it into a baby’s face from near: bounce or soften it, keep "
            "away, or take window light. Stop when the baby minds; its parent decides."
        ),
        set_up=facts.number,
    )


@rule("guardian", "common practice, no source; work with children by local rules")
def children_without_guardian(scene: Scene) -> Iterator[Caution]:
    """Warn of children for whom nobody is named as looking after them."""
    if scene.company.guardian_name or not scene.company.children:
        return
    yield Caution(
        title="Children come, and nobody is named who looks after them",
        sentence=(
            "A parent or guardian stays within sight of each child all the time. For "
            "paid or published work local rules may want a licence or a chaperone."
        ),
    )


@rule("not-shown", "the person’s own wish, or their guardian’s")
def must_not_be_shown(scene: Scene) -> Iterator[Caution]:
    """Tell who must not be shown in pictures that are published."""
    if names := [one.name for one in scene.company.people if one.not_shown]:
        yield Caution(
            title="Somebody must not be shown in published pictures",
            sentence=(
                f"{_listed(names)}. Take each group once without them as well, and "
                "mark the frames that hold them before anything is chosen."
            ),
        )


@rule("nap", "the nap times that were told")
def nap_in_the_session(scene: Scene) -> Iterator[Caution]:
    """Warn of a child’s nap that falls into the session."""
    for child in scene.company.people:
        for start, end in _naps(child, scene):
            yield Caution(
                title="A child usually sleeps during the session",
                sentence=(
                    f"{child.name}, from {clock_in(start, scene.zone)} to "
                    f"{clock_in(end, scene.zone)}{_meanwhile(scene, start, end)}. Take "
                    "their pictures before or after, or move the session."
                ),
            )


def _naps(child: Comer, scene: Scene) -> Iterator[tuple[datetime, datetime]]:
    """Give the naps of a child that share time with the session, on its first day."""
    first, last = scene.span
    day = first.astimezone(scene.zone).date()
    for start, end in child.naps:
        asleep = datetime.combine(day, start, tzinfo=scene.zone)
        awake = datetime.combine(day, end, tzinfo=scene.zone)
        if asleep < last and awake > first:
            yield asleep, awake


def _meanwhile(scene: Scene, start: datetime, end: datetime) -> str:
    numbers = [
        str(one.facts.number)
        for one in scene.set_ups
        if one.facts.starts_at < end and one.facts.ends_at > start
    ]
    if not numbers:
        return ""
    return f", in set-up{'s' if len(numbers) > 1 else ''} {_listed(numbers)}"


def _is_bare(facts: SetUpFacts) -> bool:
    lights = facts.lighting
    first = facts.flash_name and not (lights.bounced_off or lights.modifier_name)
    second = lights.second_name and not lights.second_modifier_name
    return bool(first or second)


def _listed(words: list[str]) -> str:
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} and {words[-1]}"
