"""The painter for paper: a drawing as PDF shapes, the same as its SVG on pages."""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from functools import lru_cache
from itertools import groupby
from math import cos, radians, sin
from typing import Any, Final

from reportlab.lib.rl_accel import fp_str
from reportlab.pdfgen.pathobject import PDFPathObject
from reportlab.platypus import Flowable

from studio.pdf.fonts import fitted, typeface
from studio.pdf.ink import Written, rgb, written_words
from studio.scene.drawing import (
    Circle,
    Drawing,
    Hatch,
    Line,
    Op,
    Pen,
    Point,
    Polygon,
    Polyline,
    Rect,
    Text,
)
from studio.scene.words import one_line

_GRAIN: Final = {
    Hatch.RISING: (45.0, "g500", 0.9),
    Hatch.FALLING: (-45.0, "g600", 0.9),
    Hatch.UPRIGHT: (90.0, "g500", 0.7),
}
_GRAIN_STEP: Final = 4.5
_MOST_RULES: Final = 400
_SIDES: Final = {"start": 0.0, "middle": 0.5, "end": 1.0}
_ROUND: Final = 4.0 / 3.0 * (2.0**0.5 - 1.0)  # a quarter of a circle as a Bézier curve


class Drawn(Flowable):
    """A drawing set to a width in points, its height in proportion."""

    def __init__(self, drawing: Drawing, width: float, *, align: str = "LEFT") -> None:
        super().__init__()
        self._drawing = drawing
        self._scale = width / drawing.width
        self.width = width
        self.height = drawing.height * self._scale
        self.hAlign = align

    def draw(self) -> None:
        """Paint the drawing with its lower left corner at the origin."""
        self.write(self.canv, 0.0, 0.0)

    def write(self, canvas: Any, left: float, bottom: float) -> None:
        """Paint the drawing on a canvas, with its lower left corner at a place."""
        paint(canvas, self._drawing, (left, bottom), scale=self._scale)


def paint(
    canvas: Any, drawing: Drawing, at: tuple[float, float], *, scale: float = 1.0
) -> None:
    """Paint a drawing on a canvas; `at` is its lower left corner, in points."""
    top = at[1] + drawing.height * scale
    painter = _Painter(canvas)
    placed = f"q {fp_str(scale, 0, 0, scale, at[0], top)} cm"
    canvas._code.append("\n".join([placed, *painter.painted(drawing.ops), "Q"]))


class _Painter:
    """Writes what a drawing asks for; inks are named only where they change."""

    def __init__(self, canvas: Any) -> None:
        self._code: list[str] = []
        self._canvas = canvas
        self._fill: str | None = None
        self._pen: Pen | None = None

    def painted(self, ops: Iterable[Op]) -> list[str]:
        """Return the code of ops; plain words of one size are written together."""
        for size, run in groupby(ops, key=_size_if_plain):
            if size:
                words = [_written(op) for op in run if isinstance(op, Text)]
                self._code.append(written_words(self._canvas, words, size=size))
                continue
            for op in run:
                self._paint(op)
        return self._code

    def _paint(self, op: Op) -> None:
        match op:
            case Line():
                self._shape(_line(op.x1, op.y1, op.x2, op.y2), None, op.pen)
            case Text():
                self._text(op)
            case Polyline(points) if len(points) > 1:
                self._shape(_path(points), None, op.pen)
            case Rect():
                self._area(_rect(op), op, _rect_box(op))
            case Polygon(points) if points:
                self._area(_path(points) + " h", op, _box_about(points))
            case Circle():
                self._shape(_circle(op), op.fill, op.pen)

    def _area(self, path: str, op: Rect | Polygon, box: "_Box") -> None:
        """Write an area; the grain of a hatched one lies over its fill."""
        if op.hatch is None:
            self._shape(path, op.fill, op.pen)
            return
        self._shape(path, op.fill, None)
        self._hatch(path, box, op.hatch)
        self._shape(path, None, op.pen)

    def _shape(self, path: str, fill: str | None, pen: Pen | None) -> None:
        if fill and fill != self._fill:
            self._code.append(_filled_in(fill))
            self._fill = fill
        if pen and pen != self._pen:
            self._code.append(_drawn_with(pen))
            self._pen = pen
        if fill or pen:
            done = ("B*" if pen else "f*") if fill else "S"
            self._code.append(f"n {path} {done}")

    def _hatch(self, path: str, box: "_Box", hatch: Hatch) -> None:
        """Rule lines over a box and clip them to the path."""
        _, colour, width = _GRAIN[hatch]
        self._code += [f"q n {path} W* n", _drawn_with(Pen(colour, width)), "n"]
        self._code += [f"{_path(rule)}" for rule in _rules(box, hatch)]
        self._code.append("S Q")

    def _text(self, op: Text) -> None:
        """Write words that have a rim or are turned."""
        if not op.rotate_deg:
            self._code.append(
                written_words(self._canvas, [_written(op)], size=op.size, halo=op.halo)
            )
            return
        turn = radians(op.rotate_deg)
        turned = (cos(turn), sin(turn), -sin(turn), cos(turn), op.x, -op.y)
        level = _written(replace(op, x=0.0, y=0.0))
        words = written_words(self._canvas, [level], size=op.size, halo=op.halo)
        self._code.append(f"q {fp_str(*turned)} cm {words} Q")


def _size_if_plain(op: Op) -> float:
    """Return the size of words without rim or turn, 0 for all else."""
    return op.size if isinstance(op, Text) and not (op.halo or op.rotate_deg) else 0.0


def _written(op: Text) -> Written:
    words = fitted(one_line(op.words))
    face = typeface(op.weight)
    x = op.x
    if op.anchor != "start":
        x -= face.width(words, size=op.size) * _SIDES[op.anchor]
    return Written(x, -op.y, words, face, op.colour)


_Box = tuple[float, float, float, float]


@lru_cache(maxsize=256)
def _filled_in(colour: str) -> str:
    return f"{fp_str(*rgb(colour))} rg"


@lru_cache(maxsize=256)
def _drawn_with(pen: Pen) -> str:
    colour, width, dash = fp_str(*rgb(pen.colour)), fp_str(pen.width), fp_str(*pen.dash)
    return f"{colour} RG {width} w 1 j {0 if pen.dash else 1} J [{dash}] 0 d"


def _line(x1: float, y1: float, x2: float, y2: float) -> str:
    left, top, right, bottom = fp_str(x1, -y1, x2, -y2).split()
    return f"{left} {top} m {right} {bottom} l"


def _path(points: Iterable[Point]) -> str:
    numbers = fp_str(*[number for x, y in points for number in (x, -y)]).split()
    places = list(map(" ".join, zip(numbers[::2], numbers[1::2], strict=True)))
    if len(places) == 1:
        return f"{places[0]} m"
    return f"{places[0]} m {' l '.join(places[1:])} l"


def _circle(op: Circle) -> str:
    x, y, r, k = op.x, -op.y, op.radius, op.radius * _ROUND
    places = (
        *(x + r, y),
        *(x + r, y + k, x + k, y + r, x, y + r),
        *(x - k, y + r, x - r, y + k, x - r, y),
        *(x - r, y - k, x - k, y - r, x, y - r),
        *(x + k, y - r, x + r, y - k, x + r, y),
    )
    numbers = fp_str(*places).split()
    curves = [" ".join(numbers[place : place + 6]) for place in range(2, 26, 6)]
    return f"{numbers[0]} {numbers[1]} m {' c '.join(curves)} c"


def _rect(op: Rect) -> str:
    x, y, wide, high = _rect_box(op)
    if not op.radius:
        return f"{fp_str(x, y, wide, high)} re"
    path = PDFPathObject()
    path.roundRect(x, y, wide, high, op.radius)
    rounded: str = path.getCode()
    return rounded.removeprefix("n ")


def _rect_box(op: Rect) -> _Box:
    return op.x, -op.y - op.height, op.width, op.height


def _box_about(points: Sequence[Point]) -> _Box:
    xs, ys = [x for x, _ in points], [-y for _, y in points]
    return min(xs), min(ys), max(xs) - min(xs), max(ys) - min(ys)


def _rules(box: _Box, hatch: Hatch) -> list[tuple[Point, Point]]:
    """Return the lines of a grain over a box, each from end to end."""
    angle_deg = _GRAIN[hatch][0]
    x, y, wide, high = box
    across = (-sin(radians(angle_deg)), cos(radians(angle_deg)))
    along = (across[1], -across[0])
    corners = [(x, y), (x + wide, y), (x, y + high), (x + wide, y + high)]
    depths = [px * across[0] + py * across[1] for px, py in corners]
    reaches = [px * along[0] + py * along[1] for px, py in corners]
    step = max(_GRAIN_STEP, (max(depths) - min(depths)) / _MOST_RULES)
    rules = []
    depth = min(depths) + step / 2
    while depth < max(depths):
        ends = [
            (depth * across[0] + r * along[0], -depth * across[1] - r * along[1])
            for r in (min(reaches), max(reaches))
        ]
        rules.append((ends[0], ends[1]))
        depth += step
    return rules
