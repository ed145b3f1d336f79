"""The evening before: what to charge, to format, to look up, each with its working."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Final

from jobs.kits.models import KitCategory, KitItem
from planning.checklists.models import Section
from planning.checklists.need import Need
from planning.checklists.power import camera_batteries, cards, flash_sets
from planning.shoots.planned import PlannedSetUp, PlannedShoot

OLD_WEATHER: Final = timedelta(hours=24)


@dataclass(frozen=True, slots=True, kw_only=True)
class Evening:
    """What is known of the day: its clock, and the weather as it was read last."""

    clock_zone: str
    temperature_c: float | None = None
    weather_read_at: datetime | None = None


def before_needs(
    shoot: PlannedShoot, items: Iterable[KitItem], evening: Evening
) -> Iterator[Need]:
    """Give what is counted from the plan, and what every evening before asks for."""
    held = list(items)
    yield from _of_frames(shoot, held, evening)
    yield from _of_flashes(shoot, evening)
    yield Need(
        key="clocks",
        section=Section.BEFORE,
        words="Set the cameras’ clocks",
        reason=f"To the time of {evening.clock_zone}, so that frames find their set-up",
    )
    if _weather_is_old(shoot, evening):
        yield Need(
            key="weather",
            section=Section.BEFORE,
            words="Read the weather and write it down",
            reason="Sky, wind and cold change the plan; none was read for a day",
        )


def _of_frames(
    shoot: PlannedShoot, held: list[KitItem], evening: Evening
) -> Iterator[Need]:
    frames = sum(one.facts.frames for one in shoot.set_ups)
    if not frames:
        return
    camera = next((one for one in held if one.category == KitCategory.CAMERA), None)
    power = camera_batteries(
        frames,
        per_battery=camera.frames_per_battery if camera else None,
        temperature_c=evening.temperature_c,
    )
    store = cards(frames, megabytes=camera.megabytes_per_frame if camera else None)
    yield Need(
        key="batteries",
        section=Section.CAMERA,
        words=f"Camera batteries, {power.number}",
        reason=power.working,
    )
    yield Need(
        key="cards",
        section=Section.CAMERA,
        words=f"Cards, {store.number}, formatted",
        reason=store.working,
    )
    yield Need(
        key="charge",
        section=Section.BEFORE,
        words=f"Charge {power.number} camera batteries",
        reason="And whatever else holds a charge: lamps, triggers, the phone",
    )
    yield Need(
        key="format",
        section=Section.BEFORE,
        words=f"Format {store.number} cards",
        reason="Only after the last session stands in two copies",
    )


def _of_flashes(shoot: PlannedShoot, evening: Evening) -> Iterator[Need]:
    """Count cells for each flash by itself: one that dies ends its set-ups."""
    for name, set_ups in _by_flash(shoot).items():
        pops = sum(one.facts.frames for one, _ in set_ups)
        if not pops:
            continue
        mean = sum(one.facts.frames * power for one, power in set_ups) / pops
        count = flash_sets(pops, mean_power=mean, temperature_c=evening.temperature_c)
        yield Need(
            key=f"cells:{name}"[:80],
            section=Section.BEFORE,
            words=f"Charge {count.number} sets of cells for {name}",
            reason=count.working,
        )


def _by_flash(shoot: PlannedShoot) -> dict[str, list[tuple[PlannedSetUp, float]]]:
    found: dict[str, list[tuple[PlannedSetUp, float]]] = {}
    for one in shoot.set_ups:
        answer = one.suggestion
        if answer is None:
            continue
        lamps = (
            (one.facts.flash_name, answer.flash),
            (one.facts.lighting.second_name, answer.second_flash),
        )
        for name, setting in lamps:
            if name and setting:
                found.setdefault(name, []).append((one, setting.power))
    return found


def _weather_is_old(shoot: PlannedShoot, evening: Evening) -> bool:
    read_at = evening.weather_read_at
    return read_at is None or shoot.starts_at - read_at > OLD_WEATHER
