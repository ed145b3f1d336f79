"""What hides the sun at a place: stretches, a line of points, and points seen."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import asdict, dataclass
from datetime import date
from typing import Any, Final

from planning.sites.points import (
    BEHIND,
    Profile,
    SkyPoint,
    is_bare,
    line_ends,
    line_height,
)

MARK_REACH_DEG: Final = 3.0
"""How far either side a point that was seen outranks judged heights; common practice,
no source."""
JUDGED_ERROR_DEG: Final = 1.0
"""How far a skyline judged by eye may be wrong; common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Stretch:
    """Something of one height from one true azimuth clockwise to another.

    Trees that lose their leaves say when they bear them, as "MM-DD".
    """

    from_deg: float
    to_deg: float
    height_deg: float
    name: str = ""
    leaf_from: str = ""
    leaf_to: str = ""

    def __post_init__(self) -> None:
        if not 0.0 <= self.height_deg <= 90.0:
            raise ValueError(f"height_deg {self.height_deg} is not within 0 to 90")

    @property
    def width_deg(self) -> float:
        """How many degrees of the horizon it takes; a whole turn counts as 360."""
        return (self.to_deg - self.from_deg) % 360.0 or 360.0

    def spans(self, azimuth_deg: float) -> bool:
        """Say whether it stands at an azimuth."""
        return (azimuth_deg - self.from_deg) % 360.0 <= self.width_deg

    def is_bare(self, on: date) -> bool:
        """Say whether these are trees without their leaves on a day."""
        return is_bare(self.leaf_from, self.leaf_to, on)


@dataclass(frozen=True, slots=True, kw_only=True)
class Ridge:
    """What stands at one azimuth: how high, and by how much that may be wrong."""

    height_deg: float
    name: str = ""
    error_deg: float = 0.0


Skyline = tuple[Stretch, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Horizon:
    """All that is known of a skyline, on one day of the year.

    A point that was seen outranks everything near it, and corrects the rest of the
    stretch that it lies in; otherwise the highest of the stretches and the line
    between points hides the sun.
    """

    stretches: Skyline = ()
    profile: Profile = ()
    marks: Profile = ()
    estimated: bool = True
    on: date | None = None

    def at(self, azimuth_deg: float) -> Ridge | None:
        """Return what hides the sun at an azimuth; None where the horizon is free."""
        stretch = highest_at(self.leafy(), azimuth_deg)
        name = stretch.name if stretch else ""
        if mark := _nearest(self.marks, azimuth_deg, within=MARK_REACH_DEG):
            return Ridge(height_deg=mark.height_deg, name=name)
        line = line_height(self.leafy_line(), azimuth_deg)
        if stretch is None and line <= 0.0:
            return None
        stands = self._corrected(stretch, azimuth_deg) if stretch else 0.0
        height = max(stands, line)
        error = JUDGED_ERROR_DEG if self.estimated else 0.0
        if line > stands:
            ends = line_ends(self.leafy_line(), azimuth_deg)
            top = max(ends, key=lambda one: one.height_deg)
            name = BEHIND.get(top.what, "")
            error = 0.0 if all(one.measured for one in ends) else error
        return Ridge(height_deg=height, name=name, error_deg=error)

    def height_at(self, azimuth_deg: float) -> float:
        """Return how high the skyline stands at an azimuth, in degrees."""
        ridge = self.at(azimuth_deg)
        return ridge.height_deg if ridge else 0.0

    def bare_at(self, azimuth_deg: float) -> Stretch | None:
        """Return the highest trees without leaves at an azimuth."""
        trees = highest_at(self.bare(), azimuth_deg)
        line = line_height(self.profile, azimuth_deg)
        if line <= line_height(self.leafy_line(), azimuth_deg):
            return trees
        if trees is not None and trees.height_deg >= line:
            return trees
        return Stretch(
            from_deg=azimuth_deg, to_deg=azimuth_deg, height_deg=line, name="trees"
        )

    def leafy_line(self) -> Profile:
        """Return the line's points that hide the sun on the day: all but bare trees."""
        on = self.on
        return tuple(one for one in self.profile if not (on and one.is_bare(on)))

    def bare(self) -> Skyline:
        """Return the stretches of trees that bear no leaves on the day."""
        on = self.on
        return tuple(one for one in self.stretches if on and one.is_bare(on))

    def _corrected(self, stretch: Stretch, azimuth_deg: float) -> float:
        """Return a stretch's height, as the nearest point seen along it has it."""
        along = tuple(one for one in self.marks if stretch.spans(one.azimuth_deg))
        mark = _nearest(along, azimuth_deg, within=180.0)
        return mark.height_deg if mark else stretch.height_deg

    @property
    def top_deg(self) -> float:
        """The highest that it stands anywhere, leaves or not."""
        heights = [one.height_deg for one in self.stretches]
        heights += [one.height_deg for one in (*self.profile, *self.marks)]
        return max(heights, default=0.0)

    def leafy(self) -> Skyline:
        """Return the stretches that hide the sun on the day: all but bare trees."""
        on = self.on
        return tuple(one for one in self.stretches if not (on and one.is_bare(on)))


def read_skyline(written: Iterable[Mapping[str, Any]]) -> Skyline:
    """Return the skyline that a site's JSON holds."""
    return tuple(Stretch(**stretch) for stretch in written)


def write_skyline(skyline: Sequence[Stretch]) -> list[dict[str, Any]]:
    """Return a skyline as plain JSON."""
    return [asdict(stretch) for stretch in skyline]


def highest_at(skyline: Skyline, azimuth_deg: float) -> Stretch | None:
    """Return the highest stretch at an azimuth; None where the horizon is free."""
    standing = [stretch for stretch in skyline if stretch.spans(azimuth_deg)]
    return max(standing, key=lambda stretch: stretch.height_deg, default=None)


def height_at(skyline: Skyline, azimuth_deg: float) -> float:
    """Return how high the stretches stand at an azimuth, in degrees."""
    highest = highest_at(skyline, azimuth_deg)
    return highest.height_deg if highest else 0.0


def _nearest(marks: Profile, azimuth_deg: float, *, within: float) -> SkyPoint | None:
    def away(mark: SkyPoint) -> float:
        return abs((mark.azimuth_deg - azimuth_deg + 180.0) % 360.0 - 180.0)

    near = [mark for mark in marks if away(mark) <= within]
    return min(near, key=away, default=None)
