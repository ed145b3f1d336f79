"""What hides the sun at a place: stretches, a line of points, and points seen."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import asdict, dataclass
from datetime import date
from itertools import pairwise
from typing import Any, Final

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
        if not (self.leaf_from and self.leaf_to):
            return False
        day = f"{on:%m-%d}"
        if self.leaf_from <= self.leaf_to:
            return not self.leaf_from <= day <= self.leaf_to
        return self.leaf_to < day < self.leaf_from


@dataclass(frozen=True, slots=True, kw_only=True)
class SkyPoint:
    """One point of a skyline; `seen` when the sun was watched as it went there."""

    azimuth_deg: float
    height_deg: float
    seen: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Ridge:
    """What stands at one azimuth: how high, and by how much that may be wrong."""

    height_deg: float
    name: str = ""
    error_deg: float = 0.0


Skyline = tuple[Stretch, ...]
Profile = tuple[SkyPoint, ...]


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
        line = line_height(self.profile, azimuth_deg)
        if stretch is None and line <= 0.0:
            return None
        stands = self._corrected(stretch, azimuth_deg) if stretch else 0.0
        height = max(stands, line)
        name = "" if line > stands else name
        error = JUDGED_ERROR_DEG if self.estimated else 0.0
        return Ridge(height_deg=height, name=name, error_deg=error)

    def height_at(self, azimuth_deg: float) -> float:
        """Return how high the skyline stands at an azimuth, in degrees."""
        ridge = self.at(azimuth_deg)
        return ridge.height_deg if ridge else 0.0

    def bare_at(self, azimuth_deg: float) -> Stretch | None:
        """Return the highest trees without leaves at an azimuth."""
        return highest_at(self.bare(), azimuth_deg)

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


def read_profile(written: Iterable[Sequence[float]]) -> Profile:
    """Return the line of points that a site's JSON holds, by azimuth."""
    return tuple(
        SkyPoint(azimuth_deg=az, height_deg=up)
        for az, up in sorted(map(tuple, written))
    )


def write_profile(profile: Sequence[SkyPoint]) -> list[list[float]]:
    """Return a line of points as plain JSON."""
    return sorted([one.azimuth_deg, one.height_deg] for one in profile)


def read_seen(written: Iterable[Sequence[float]]) -> Profile:
    """Return the points that were seen, newest first, as a site's JSON holds them."""
    return tuple(
        SkyPoint(azimuth_deg=az, height_deg=up, seen=True) for az, up in written
    )


def highest_at(skyline: Skyline, azimuth_deg: float) -> Stretch | None:
    """Return the highest stretch at an azimuth; None where the horizon is free."""
    standing = [stretch for stretch in skyline if stretch.spans(azimuth_deg)]
    return max(standing, key=lambda stretch: stretch.height_deg, default=None)


def height_at(skyline: Skyline, azimuth_deg: float) -> float:
    """Return how high the stretches stand at an azimuth, in degrees."""
    highest = highest_at(skyline, azimuth_deg)
    return highest.height_deg if highest else 0.0


def line_height(profile: Profile, azimuth_deg: float) -> float:
    """Return how high the line between points stands at an azimuth.

    Points are in order of azimuth; the line ends at the first and last of them, so a
    whole turn is drawn by a point at 0 and one at 360.
    """
    for one, two in pairwise(profile):
        if one.azimuth_deg <= azimuth_deg <= two.azimuth_deg:
            wide = two.azimuth_deg - one.azimuth_deg
            share = (azimuth_deg - one.azimuth_deg) / wide if wide else 1.0
            return one.height_deg + share * (two.height_deg - one.height_deg)
    return 0.0


def _nearest(marks: Profile, azimuth_deg: float, *, within: float) -> SkyPoint | None:
    def away(mark: SkyPoint) -> float:
        return abs((mark.azimuth_deg - azimuth_deg + 180.0) % 360.0 - 180.0)

    near = [mark for mark in marks if away(mark) <= within]
    return min(near, key=away, default=None)
