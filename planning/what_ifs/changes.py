"""What is asked of a plan: that it starts late, that a lens stays at home."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from math import log2
from typing import Any

from jobs.kits.models import KitItem
from planning.shoots.models import SetUp


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """A change to try: minutes later from a set-up on, and a lens that is missing."""

    late_minutes: int = 0
    from_number: int = 1
    missing_lens_id: int | None = None

    @property
    def is_none(self) -> bool:
        """Whether nothing is changed."""
        return self.late_minutes == 0 and self.missing_lens_id is None


@dataclass(frozen=True, slots=True)
class Edit:
    """Other values for a set-up; `lens` counts only where `swaps` says so."""

    starts_at: datetime | None = None
    swaps: bool = False
    lens: KitItem | None = None
    focal_length_mm: float = 0.0

    @property
    def fields(self) -> dict[str, Any]:
        """The fields that get other values."""
        fields: dict[str, Any] = {}
        if self.starts_at is not None:
            fields["starts_at"] = self.starts_at
        if self.swaps:
            fields |= {"lens": self.lens, "focal_length_mm": self.focal_length_mm}
        return fields


@dataclass(frozen=True, slots=True, kw_only=True)
class LensSwap:
    """Which lens a set-up takes instead; `lens` None: the studio has no other."""

    number: int
    lens: KitItem | None
    was_mm: float
    now_mm: float
    distance_m: float
    is_booked: bool

    @property
    def words(self) -> str:
        """What is taken instead, how the frame changes, from where it is the same."""
        if self.lens is None:
            return "the studio has no other lens."
        booked = "" if self.is_booked else ", which is not booked for this session"
        if self.now_mm == self.was_mm:
            return f"{self.lens} at {self.now_mm:g} mm as before{booked}."
        wider = self.was_mm / self.now_mm
        # magnification f/(s - f) stays if s/f does: the thin lens
        same_m = self.distance_m * self.now_mm / self.was_mm
        how = f"{wider:.1f} × as wide" if wider > 1 else f"{1 / wider:.1f} × tighter"
        return (
            f"{self.lens} at {self.now_mm:g} mm instead of {self.was_mm:g} mm{booked}. "
            f"The frame is {how}; the same frame from {same_m:.1f} m."
        )


def edits_of(
    rows: Sequence[SetUp], change: Change, lenses: Sequence[KitItem]
) -> dict[int, Edit]:
    """Return by set-up what a change gives other values.

    What shades a set-up does so by the sun, so it keeps its clock when the shoot is
    late.
    """
    late = timedelta(minutes=change.late_minutes)
    edits = {}
    for number, row in enumerate(rows, start=1):
        moves = change.late_minutes != 0 and number >= change.from_number
        swaps = row.lens_id is not None and row.lens_id == change.missing_lens_id
        lens, focal = nearest_lens(row, lenses) if swaps else (None, 0.0)
        if moves or swaps:
            starts_at = row.starts_at + late if moves else None
            edits[row.pk] = Edit(starts_at, swaps, lens, focal)
    return edits


def nearest_lens(row: SetUp, lenses: Iterable[KitItem]) -> tuple[KitItem | None, float]:
    """Return the lens that comes nearest to a set-up's focal length, and that length.

    Of lenses that come as near the brightest is taken; without any the length stays.
    """
    wanted = row.focal_length_mm
    others = [one for one in lenses if one.pk != row.lens_id and one.focal_length_mm]
    if not others:
        return None, wanted
    best = min(others, key=lambda one: _rank(one, wanted))
    return best, _reachable(best, wanted)


def _rank(lens: KitItem, wanted_mm: float) -> tuple[float, float, int]:
    off = abs(log2(_reachable(lens, wanted_mm) / wanted_mm))
    return round(off, 6), lens.widest_f_number or 99.0, lens.pk


def _reachable(lens: KitItem, wanted_mm: float) -> float:
    shortest = lens.focal_length_mm or wanted_mm
    return min(max(wanted_mm, shortest), lens.longest_focal_length_mm or shortest)


def changed_row(row: SetUp, fields: Mapping[str, Any]) -> SetUp:
    """Return a set-up with other values, not saved; the one given stays as it is."""
    names = [one.name for one in SetUp._meta.concrete_fields if one.name != "plan"]
    values = {name: getattr(row, name) for name in names}
    return SetUp(plan_id=row.plan_id, **(values | dict(fields)))
