"""Points of a skyline, and the straight line that runs from each to the next."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from itertools import pairwise
from typing import Any, Final


class PointKind(StrEnum):
    """What stands at a point of a skyline; the word is what the sun goes behind."""

    HILL = "hill"
    HOUSE = "house"
    TREE = "tree"


BEHIND: Final = {"hill": "the hill", "house": "the house", "tree": "trees"}
"""What the sun goes behind, by what stands at a point."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SkyPoint:
    """One point of a skyline; `seen` when the sun was watched as it went there.

    Trees that lose their leaves say when they bear them, as "MM-DD".
    """

    azimuth_deg: float
    height_deg: float
    seen: bool = False
    what: str = ""
    measured: bool = False
    leaf_from: str = ""
    leaf_to: str = ""

    def is_bare(self, on: date) -> bool:
        """Say whether these are trees without their leaves on a day."""
        return is_bare(self.leaf_from, self.leaf_to, on)


Profile = tuple[SkyPoint, ...]


def read_profile(written: Iterable[Sequence[Any]]) -> Profile:
    """Return the line of points that a site's JSON holds, by azimuth."""
    points = (_point(*one) for one in written)
    return tuple(sorted(points, key=lambda one: (one.azimuth_deg, one.height_deg)))


def _point(
    azimuth_deg: float,
    height_deg: float,
    what: str = "",
    measured: bool = False,
    *leaf: str,
) -> SkyPoint:
    """Return a point from what JSON holds of it; the first two are always there."""
    first, last = leaf or ("", "")
    return SkyPoint(
        azimuth_deg=azimuth_deg,
        height_deg=height_deg,
        what=what,
        measured=measured,
        leaf_from=first,
        leaf_to=last,
    )


def write_profile(profile: Sequence[SkyPoint]) -> list[list[Any]]:
    """Return a line of points as plain JSON: figures, what stands there, its leaves."""
    return sorted(
        [
            *(one.azimuth_deg, one.height_deg, one.what, one.measured),
            *(one.leaf_from, one.leaf_to),
        ]
        for one in profile
    )


def read_seen(written: Iterable[Sequence[float]]) -> Profile:
    """Return the points that were seen, newest first, as a site's JSON holds them."""
    return tuple(
        SkyPoint(azimuth_deg=az, height_deg=up, seen=True) for az, up in written
    )


def line_height(profile: Profile, azimuth_deg: float) -> float:
    """Return how high the line between points stands at an azimuth.

    Points are in order of azimuth; the line ends at the first and last of them, so a
    whole turn is drawn by a point at 0 and one at 360.
    """
    ends = line_ends(profile, azimuth_deg)
    if not ends:
        return 0.0
    one, two = ends
    wide = two.azimuth_deg - one.azimuth_deg
    share = (azimuth_deg - one.azimuth_deg) / wide if wide else 1.0
    return one.height_deg + share * (two.height_deg - one.height_deg)


def line_ends(profile: Profile, azimuth_deg: float) -> Profile:
    """Return the two points between which the line passes an azimuth; none: no line."""
    for one, two in pairwise(profile):
        if one.azimuth_deg <= azimuth_deg <= two.azimuth_deg:
            return one, two
    return ()


def is_bare(leaf_from: str, leaf_to: str, on: date) -> bool:
    """Say whether trees with leaves between two days are without them on a day."""
    if not (leaf_from and leaf_to):
        return False
    day = f"{on:%m-%d}"
    if leaf_from <= leaf_to:
        return not leaf_from <= day <= leaf_to
    return leaf_to < day < leaf_from
