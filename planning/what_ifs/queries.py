"""A plan under every sky, as it stands and as a change would make it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from functools import cached_property

from jobs.bookings.models import Booking
from jobs.kits.models import KitCategory, KitItem
from planning.shoots.choices import SkyWord
from planning.shoots.models import SetUp, ShootPlan
from planning.shoots.planned import PlannedSetUp, PlannedShoot
from planning.shoots.queries import rows_of, what_gives, work_out
from planning.shoots.words import ev_words, short_settings
from planning.what_ifs.changes import (
    Change,
    Edit,
    LensSwap,
    changed_row,
    edits_of,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """What a set-up comes to under one sky; `gives` against the plan as it stands."""

    sky: str
    settings: str
    ev: str
    gives: str
    fits: bool
    differs: bool
    is_planned: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class WhatIfRow:
    """One set-up: as it stands, and what it comes to under every sky."""

    number: int
    name: str
    starts_at: datetime
    ends_at: datetime
    stands: str
    swap: LensSwap | None
    outcomes: tuple[Outcome, ...]


class WhatIf:
    """A booking's plan tried under every sky with a change; nothing is saved."""

    def __init__(self, booking: Booking, change: Change) -> None:
        self.booking, self.change = booking, change
        self.plan = ShootPlan.objects.filter(booking=booking).first()
        self.saved: list[SetUp] = rows_of(self.plan) if self.plan else []
        self.sky = SkyWord(self.plan.sky) if self.plan else SkyWord.CLEAR

    @cached_property
    def stands(self) -> PlannedShoot:
        """The plan as it stands."""
        return work_out(self.booking, self.saved, self.sky)

    @cached_property
    def edits(self) -> dict[int, Edit]:
        """By set-up, what the change gives other values."""
        return edits_of(self.saved, self.change, self.lenses)

    @cached_property
    def lenses(self) -> list[KitItem]:
        """Every lens that the studio has."""
        return list(KitItem.objects.in_use().of(KitCategory.LENS))

    @cached_property
    def used_lenses(self) -> list[KitItem]:
        """The lenses that the plan asks for, each once."""
        used = {row.lens_id: row.lens for row in self.saved if row.lens}
        return sorted(used.values(), key=lambda lens: lens.name)

    @cached_property
    def tried(self) -> dict[SkyWord, PlannedShoot]:
        """The changed plan under every sky."""
        none = Edit()
        rows = [
            changed_row(row, self.edits.get(row.pk, none).fields) for row in self.saved
        ]
        return {word: work_out(self.booking, rows, word) for word in SkyWord}

    @property
    def minutes_early(self) -> int:
        """How many minutes sooner it starts, where it does."""
        return -self.change.late_minutes

    @property
    def new_cautions(self) -> tuple[str, ...]:
        """What the change brings that the plan does not have, under the planned sky."""
        known = {one.title for one in self.stands.cautions}
        tried = self.tried[self.sky].cautions
        return tuple(one.title for one in tried if one.title not in known)

    @property
    def settled_cautions(self) -> tuple[str, ...]:
        """What the change takes away, under the planned sky."""
        left = {one.title for one in self.tried[self.sky].cautions}
        stands = self.stands.cautions
        return tuple(one.title for one in stands if one.title not in left)

    @property
    def rows(self) -> tuple[WhatIfRow, ...]:
        """Every set-up with what it comes to."""
        return tuple(self._row(index) for index in range(len(self.saved)))

    def _row(self, index: int) -> WhatIfRow:
        stands = self.stands.set_ups[index]
        tried = self.tried[self.sky].set_ups[index].facts
        return WhatIfRow(
            number=index + 1,
            name=stands.facts.name,
            starts_at=tried.starts_at,
            ends_at=tried.ends_at,
            stands=_settings(stands),
            swap=self._swap(self.saved[index], index + 1),
            outcomes=tuple(
                _outcome(
                    word, shoot.set_ups[index], stands, is_planned=word == self.sky
                )
                for word, shoot in self.tried.items()
            ),
        )

    def _swap(self, row: SetUp, number: int) -> LensSwap | None:
        edit = self.edits.get(row.pk)
        if edit is None or not edit.swaps:
            return None
        return LensSwap(
            number=number,
            lens=edit.lens,
            was_mm=row.focal_length_mm,
            now_mm=edit.focal_length_mm,
            distance_m=row.distance_m,
            is_booked=edit.lens is not None and edit.lens.pk in self._booked,
        )

    @cached_property
    def _booked(self) -> set[int]:
        held = self.booking.reservations.filter(kit_item__isnull=False)
        return {pk for pk in held.values_list("kit_item_id", flat=True) if pk}


def _settings(one: PlannedSetUp) -> str:
    return short_settings(one.suggestion) if one.suggestion else "–"


def _outcome(
    word: SkyWord, tried: PlannedSetUp, stands: PlannedSetUp, *, is_planned: bool
) -> Outcome:
    now, was = tried.suggestion, stands.suggestion
    return Outcome(
        sky=word.label,
        settings=_settings(tried),
        ev=ev_words(tried),
        gives=tried.trouble or what_gives(now, was),
        fits=now is not None and now.fits,
        differs=_settings(tried) != _settings(stands),
        is_planned=is_planned,
    )


def skies() -> Sequence[tuple[str, str]]:
    """Return every sky with its word, in the order of the table."""
    return [(word.value, word.label) for word in SkyWord]
