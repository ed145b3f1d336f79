"""Small marks that pages and paper share; a word always stands beside them."""

from collections.abc import Sequence
from itertools import groupby
from math import cos, pi, sin
from typing import Final

from studio.scene.drawing import (
    Circle,
    Drawing,
    Line,
    Op,
    Pen,
    Polygon,
    Polyline,
    Rect,
    badge,
)

QUIET: Final = 4
_OUTLINE = Pen("ink", 1.5)


def number_badge(label: str) -> Drawing:
    """Draw a number or short label in a black disc, 26 units across."""
    return Drawing(26, 26, badge(13, 13, label, radius=12.3), title=label)


def caution_mark() -> Drawing:
    """Draw the triangle that stands beside a caution, 26 units across."""
    corners = ((13.0, 3.0), (24.4, 22.8), (1.6, 22.8))
    ops: tuple[Op, ...] = (
        Polygon(corners, pen=Pen("ink", 2.6)),
        Line(13, 9.6, 13, 15.6, Pen("ink", 2.6)),
        Circle(13, 19.2, 1.5, fill="ink"),
    )
    return Drawing(26, 26, ops, title="Caution")


def tick_mark(*, ticked: bool = False) -> Drawing:
    """Draw a box to tick, 20 units across, empty unless it is ticked."""
    ops: list[Op] = [Rect(1, 1, 18, 18, pen=Pen("ink", 1.9))]
    if ticked:
        ops.append(Polyline(((4.5, 10.5), (8.5, 14.5), (15.5, 5.5)), Pen("ink", 2.4)))
    return Drawing(20, 20, tuple(ops), title="ticked" if ticked else "to tick")


def dot_mark() -> Drawing:
    """Draw the dot that stands before an item of a list, 10 units wide."""
    return Drawing(10, 14, (Circle(4, 8.4, 2.2, fill="ink"),))


def module_code(modules: Sequence[Sequence[bool]]) -> Drawing:
    """Draw a square code of dark modules, one unit each, in a border of four."""
    side = len(modules) + 2 * QUIET
    runs: list[Op] = []
    for y, row in enumerate(modules):
        x = 0
        for is_dark, run in groupby(row):
            width = len(list(run))
            if is_dark:
                runs.append(Rect(QUIET + x, QUIET + y, width, 1, fill="#000000"))
            x += width
    return Drawing(side, side, tuple(runs), title="Code to scan")


def stage_mark(quarters: int) -> Drawing:
    """Draw how far a job has come as a disc filled by 0 to 4 quarters, 20 units wide.

    Raises ValueError outside 0 to 4.
    """
    if not 0 <= quarters <= 4:
        raise ValueError(f"{quarters} quarters do not fit a disc")
    ops: list[Op] = []
    if quarters == 4:
        ops.append(Circle(10, 10, 8, fill="ink"))
    elif quarters:
        steps = 8 * quarters
        arc = [
            (10 + 8 * sin(pi / 2 * quarters * i / steps), _arc_y(quarters, i / steps))
            for i in range(steps + 1)
        ]
        ops.append(Polygon(((10.0, 10.0), *arc), fill="ink"))
    ops.append(Circle(10, 10, 8, pen=_OUTLINE))
    return Drawing(20, 20, tuple(ops), title=f"{quarters} of 4 quarters")


def _arc_y(quarters: int, part: float) -> float:
    return 10 - 8 * cos(pi / 2 * quarters * part)
