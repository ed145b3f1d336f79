"""What lights the shadow side of a set-up: a board, walls, sky and ground."""

from __future__ import annotations

from dataclasses import dataclass
from math import log2

MOST_SHARE = 10.0
"""Light all but even: one tenth more on the lit side."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ShadowFill:
    """Light on the shadow side, each as a share of what the lit side gets beyond it.

    `board` None: no board whose share is known. `walls` None: no known room.
    `around`: sky and ground outdoors, and `wall`, what a wall outdoors throws; None
    indoors and beside a flash.
    """

    board: float | None = None
    walls: float | None = None
    around: float | None = None
    wall: float | None = None

    @property
    def share(self) -> float | None:
        """All of it; None where nothing is known."""
        known = (self.board, self.alone)
        if all(one is None for one in known):
            return None
        return min(sum(one or 0.0 for one in known), MOST_SHARE)

    @property
    def alone(self) -> float | None:
        """What is there without a board; None where it is not known."""
        known = (self.walls, self.around, self.wall)
        if all(one is None for one in known):
            return None
        return sum(one or 0.0 for one in known)

    @property
    def under_stops(self) -> float | None:
        """How far the shadow side stays under the lit side; None: nothing fills it."""
        return _under(self.share)

    @property
    def under_alone_stops(self) -> float | None:
        """How far it would stay under without the board."""
        return _under(self.alone)

    @property
    def lift_stops(self) -> float | None:
        """How much brighter the board makes a shadow side that has light already."""
        if not (self.board and self.alone):
            return None
        return log2((self.board + self.alone) / self.alone)


def _under(share: float | None) -> float | None:
    """Return the contrast of the two sides: the fill reaches both, K + F over F."""
    return log2(1.0 / share + 1.0) if share else None
