"""Small marks for paper: numbers in discs, cautions, boxes to tick, dots."""

from studio.pdf.scene import Drawn
from studio.scene.marks import caution_mark, dot_mark, number_badge, tick_mark


def badge(label: str, *, width: float = 22.0) -> Drawn:
    """Return a number or short label in a black disc."""
    return Drawn(number_badge(label), width)


def caution(*, width: float = 14.0) -> Drawn:
    """Return the triangle that stands beside a caution."""
    return Drawn(caution_mark(), width)


def tick_box(*, ticked: bool = False, width: float = 11.5) -> Drawn:
    """Return a box to tick, big enough for a pencil."""
    return Drawn(tick_mark(ticked=ticked), width)


def dot(*, width: float = 9.0) -> Drawn:
    """Return the dot before an item of a list."""
    return Drawn(dot_mark(), width)
