"""What hides the sun at a place: stretches of skyline by true azimuth."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import asdict, dataclass
from typing import Any


@dataclass(frozen=True, slots=True, kw_only=True)
class Stretch:
    """Something of one height from one true azimuth clockwise to another."""

    from_deg: float
    to_deg: float
    height_deg: float
    name: str = ""

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


Skyline = tuple[Stretch, ...]


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
    """Return how high the skyline stands at an azimuth, in degrees."""
    highest = highest_at(skyline, azimuth_deg)
    return highest.height_deg if highest else 0.0
