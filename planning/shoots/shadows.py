"""What is thrown back on the shadow side of a set-up: by a board, by walls."""

from __future__ import annotations

from dataclasses import dataclass
from math import log2


@dataclass(frozen=True, slots=True, kw_only=True)
class ShadowFill:
    """Light thrown back on the shadow side, each as a share of the key light.

    `board` None: no board whose share is known. `walls` None: no known room.
    """

    board: float | None = None
    walls: float | None = None

    @property
    def share(self) -> float | None:
        """All of it; None where nothing is known."""
        if self.board is None and self.walls is None:
            return None
        return min((self.board or 0.0) + (self.walls or 0.0), 1.0)

    @property
    def under_stops(self) -> float | None:
        """How far the shadow side stays under the lit side; None: nothing fills it."""
        return _under(self.share)

    @property
    def under_by_walls_stops(self) -> float | None:
        """How far it would stay under with the walls alone."""
        return _under(self.walls)

    @property
    def lift_stops(self) -> float | None:
        """How much brighter the board makes a shadow side that walls light already."""
        if not (self.board and self.walls):
            return None
        return log2((self.board + self.walls) / self.walls)


def _under(share: float | None) -> float | None:
    """Return the contrast of the two sides: the fill reaches both, K + F over F."""
    return log2(1.0 / share + 1.0) if share else None
