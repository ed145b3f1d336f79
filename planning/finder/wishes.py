"""What is asked of a slot: its light, its length, its days and hours."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, time
from enum import Enum
from math import ceil
from typing import Final

from planning.light.air import SUNSET_ALTITUDE_DEG

LONGEST_SEARCH_DAYS: Final = 366
LONGEST_SESSION_MIN: Final = 720
DAY_MIN: Final = 1440
QUARTER_DEG: Final = 45.0
"""How far either side of straight left still counts as left; common practice, no
source."""


class Kind(Enum):
    """The light that is wanted."""

    LOW_SUN = "low"
    BRIGHT = "bright"
    SHADE = "shade"
    TWILIGHT = "twilight"
    WINDOW = "window"
    WINDOW_SUN = "window_sun"

    @property
    def is_indoors(self) -> bool:
        """Whether it comes through a window."""
        return self in {Kind.WINDOW, Kind.WINDOW_SUN}

    @property
    def is_sun(self) -> bool:
        """Whether the sun itself has to reach the sitter."""
        return self in {Kind.LOW_SUN, Kind.BRIGHT, Kind.WINDOW_SUN}


class Side(Enum):
    """Where the light stands as seen from the sitter; the value turns to its middle."""

    ANY = "any"
    LEFT = "left"
    RIGHT = "right"
    FRONT = "front"
    BEHIND = "behind"

    @property
    def turn_deg(self) -> float:
        """The turn from where the sitter looks to the light, clockwise."""
        return {"left": -90.0, "right": 90.0, "behind": 180.0}.get(self.value, 0.0)


BANDS_DEG: Final = {
    Kind.LOW_SUN: (SUNSET_ALTITUDE_DEG, 8.0),
    Kind.BRIGHT: (8.0, 90.0),
    Kind.SHADE: (5.0, 90.0),
    Kind.TWILIGHT: (-6.0, SUNSET_ALTITUDE_DEG),
    Kind.WINDOW: (5.0, 90.0),
    Kind.WINDOW_SUN: (5.0, 90.0),
}
"""How high the sun is to stand if nobody says: low sun and twilight as the day strip
has them; 5 degrees for enough light in shade is common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Opening:
    """A window: the way it looks out, true, and how high what is opposite reaches."""

    facing_deg: float
    obstruction_deg: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Hours:
    """The days and the hours of the place's clock within which a session lies.

    `until_minute` at or before `from_minute` is the next day's. `weekdays` counts from
    Monday as 0; hours that run past midnight belong to the day on which they start.
    """

    first_on: date
    days: int
    weekdays: frozenset[int] = frozenset(range(7))
    from_minute: int = 0
    until_minute: int = DAY_MIN
    access_from: time | None = None
    access_until: time | None = None

    def __post_init__(self) -> None:
        if not 1 <= self.days <= LONGEST_SEARCH_DAYS:
            raise ValueError(f"{self.days} days are not within a year")

    @property
    def width_minutes(self) -> int:
        """How long the hours are open."""
        return (self.until_minute - self.from_minute) % DAY_MIN or DAY_MIN


@dataclass(frozen=True, slots=True, kw_only=True)
class Wish:
    """A session to be found: length in minutes, its light for a share of them.

    `band_deg` is where the sun's centre stands, without air. Without `facing_deg` the
    sitter may be turned as the light needs.
    """

    kind: Kind
    hours: Hours
    not_before: datetime
    minutes: int = 120
    share: float = 0.5
    band_deg: tuple[float, float] | None = None
    side: Side = Side.ANY
    facing_deg: float | None = None
    opening: Opening | None = None
    before_minutes: int = 0
    after_minutes: int = 0

    def __post_init__(self) -> None:
        if not 0 < self.minutes <= LONGEST_SESSION_MIN:
            raise ValueError(f"{self.minutes} minutes is no session")
        if not 0.0 < self.share <= 1.0:
            raise ValueError(f"share {self.share} is not within 0 to 1")
        if self.kind.is_indoors and self.opening is None:
            raise ValueError("window light needs a window")

    @property
    def band(self) -> tuple[float, float]:
        """Between which heights the sun is to stand, in degrees."""
        return self.band_deg or BANDS_DEG[self.kind]

    @property
    def needed_minutes(self) -> int:
        """For how many minutes of the session the light has to hold."""
        return max(ceil(self.minutes * self.share), 1)
