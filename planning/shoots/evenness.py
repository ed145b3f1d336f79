"""How evenly a group is lit from its nearest to its farthest sitter."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

EVEN_STOPS: Final = 0.5
"""What a group may differ by and still look evenly lit; common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class GroupFalloff:
    """What the farthest of a group gets less than the nearest, in stops.

    `remedy_m` is the distance that makes it `EVEN_STOPS`, of the lamp or of the group
    from its window, and `costs_stops` the light that this takes; None where it is even
    enough, or where no distance helps.
    """

    stops: float
    by_window: bool
    remedy_m: float | None = None
    costs_stops: float = 0.0

    @property
    def is_even(self) -> bool:
        """Whether the group looks evenly lit."""
        return self.stops <= EVEN_STOPS
