"""The drawing list: plain shapes and words that a painter sets on a page or on paper.

Lengths are the drawing's own units (CSS pixels on a page, points before scaling
on paper); x runs to the right, y downwards from the top edge. Colours are token
names or #RRGGBB. Ops are painted in their order, later ones over earlier ones.
"""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from enum import Enum
from typing import Literal

Weight = Literal[400, 600, 700, 900]
Anchor = Literal["start", "middle", "end"]
Point = tuple[float, float]


class Hatch(Enum):
    """A grain of ruled lines; the value is the name that its pattern carries."""

    RISING = "rising"
    FALLING = "falling"
    UPRIGHT = "upright"


@dataclass(frozen=True, slots=True)
class Pen:
    """What draws an outline: colour, width, and lengths of dash and gap."""

    colour: str = "ink"
    width: float = 1.0
    dash: tuple[float, ...] = ()


THIN = Pen("g300", 1.0)
INK = Pen("ink", 1.5)


@dataclass(frozen=True, slots=True)
class Rect:
    """A rectangle by its upper left corner; a hatch lies over the fill."""

    x: float
    y: float
    width: float
    height: float
    fill: str | None = None
    pen: Pen | None = None
    hatch: Hatch | None = None
    radius: float = 0.0


@dataclass(frozen=True, slots=True)
class Line:
    """A straight line from one point to another."""

    x1: float
    y1: float
    x2: float
    y2: float
    pen: Pen = Pen()


@dataclass(frozen=True, slots=True)
class Polyline:
    """An open line through points."""

    points: tuple[Point, ...]
    pen: Pen = Pen()


@dataclass(frozen=True, slots=True)
class Polygon:
    """A closed shape through points; a hatch lies over the fill."""

    points: tuple[Point, ...]
    fill: str | None = None
    pen: Pen | None = None
    hatch: Hatch | None = None


@dataclass(frozen=True, slots=True)
class Circle:
    """A circle by its centre."""

    x: float
    y: float
    radius: float
    fill: str | None = None
    pen: Pen | None = None


@dataclass(frozen=True, slots=True)
class Text:
    """Words on one line; y is the baseline. They are printed as they stand.

    `rotate_deg` turns them anticlockwise about (x, y); `halo` is the colour of
    a rim that keeps them readable over lines.
    """

    x: float
    y: float
    words: str
    size: float = 12.0
    colour: str = "ink"
    anchor: Anchor = "start"
    weight: Weight = 400
    rotate_deg: float = 0.0
    halo: str | None = None


Op = Rect | Line | Polyline | Polygon | Circle | Text


@dataclass(frozen=True, slots=True)
class Drawing:
    """A finished drawing: its size, what it shows in words, and its ops.

    `title` names it and `description` says in words what the eye would read off
    it; both go to screen readers. A drawing is a value: equal ones paint alike.
    """

    width: float
    height: float
    ops: tuple[Op, ...]
    title: str = ""
    description: str = ""

    def __post_init__(self) -> None:
        if not (0.0 < self.width < 1e6 and 0.0 < self.height < 1e6):
            raise ValueError(f"a drawing cannot be {self.width} by {self.height}")


def badge(
    x: float, y: float, label: str, *, radius: float = 9.0, fill: str = "ink"
) -> tuple[Op, ...]:
    """Return a filled disc about (x, y) with a short label in it, rimmed in white."""
    ink = "ink" if fill == "sun" else "white"
    size = radius * (1.3 if len(label) < 2 else 1.1 if len(label) < 3 else 0.82)
    rim = Pen("ink" if fill == "sun" else "white", 1.2)
    return (
        Circle(x, y, radius, fill=fill, pen=rim),
        Text(x, y + size * 0.325, label, size, ink, anchor="middle", weight=700),
    )


def moved(ops: Iterable[Op], *, dx: float, dy: float) -> tuple[Op, ...]:
    """Return the ops shifted, so that a small drawing can stand inside a larger."""
    return tuple(_moved(op, dx, dy) for op in ops)


def _moved(op: Op, dx: float, dy: float) -> Op:
    match op:
        case Line():
            return replace(
                op, x1=op.x1 + dx, y1=op.y1 + dy, x2=op.x2 + dx, y2=op.y2 + dy
            )
        case Polyline() | Polygon():
            return replace(op, points=tuple((x + dx, y + dy) for x, y in op.points))
        case Rect() | Circle() | Text():
            return replace(op, x=op.x + dx, y=op.y + dy)
