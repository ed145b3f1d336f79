"""The shifts that hold in a plan, as every page of it says them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from planning.shifts.queries import shift_words
from planning.shoots.planned import PlannedShoot


@dataclass(frozen=True, slots=True, kw_only=True)
class ShownShift:
    """One shift in words: by how much, from which frame, which set-ups, whose doing."""

    pk: int
    words: str
    set_ups: str
    made_by: str
    made_at: datetime


def shown_shifts(shoot: PlannedShoot) -> tuple[ShownShift, ...]:
    """Return the shifts that move at least one set-up, the latest first."""
    rows = []
    for shift in shoot.shifts:
        moved = [one.facts.number for one in shoot.set_ups if one.shift == shift]
        if moved:
            rows.append(
                ShownShift(
                    pk=shift.pk,
                    words=shift_words(shift, shoot.light.where.zone),
                    set_ups=f"{set_ups_words(moved)}, if the sky is {shoot.sky_words}",
                    made_by=str(shift.made_by),
                    made_at=shift.made_at,
                )
            )
    return tuple(rows)


def set_ups_words(numbers: Sequence[int]) -> str:
    """Return which set-ups are meant: "set-up 2", "set-ups 2, 3 and 5"."""
    if len(numbers) == 1:
        return f"set-up {numbers[0]}"
    return f"set-ups {', '.join(map(str, numbers[:-1]))} and {numbers[-1]}"
