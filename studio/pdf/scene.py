"""The painter for paper: a drawing as PDF shapes, the same as its SVG on pages."""

from collections.abc import Iterable
from math import cos, radians, sin
from typing import Any, Final

from reportlab.platypus import Flowable

from studio.pdf.fonts import fitted, typeface
from studio.pdf.ink import Written, put_words, rgb
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
        paint(self.canv, self._drawing, (0.0, 0.0), scale=self._scale)


def paint(
    canvas: Any, drawing: Drawing, at: tuple[float, float], *, scale: float = 1.0
) -> None:
    """Paint a drawing on a canvas; `at` is its lower left corner, in points."""
    canvas.saveState()
    canvas.translate(at[0], at[1] + drawing.height * scale)
    canvas.scale(scale, scale)
    for op in drawing.ops:
        _paint(canvas, op)
    canvas.restoreState()


def _paint(canvas: Any, op: Op) -> None:
    match op:
        case Rect():
            _rect(canvas, op)
        case Line():
            _outline(canvas, [(op.x1, op.y1), (op.x2, op.y2)], op.pen)
        case Polyline():
            _outline(canvas, op.points, op.pen)
        case Polygon():
            _polygon(canvas, op)
        case Circle():
            shown = _set_inks(canvas, op.fill, op.pen)
            if any(shown):
                canvas.circle(op.x, -op.y, op.radius, fill=shown[0], stroke=shown[1])
        case Text():
            _text(canvas, op)


def _rect(canvas: Any, op: Rect) -> None:
    bottom = -op.y - op.height
    corner = (op.x, bottom, op.width, op.height)
    if op.hatch is not None:
        _fill_rect(canvas, op, corner, fill=op.fill, pen=None)
        path = canvas.beginPath()
        path.rect(*corner)
        _hatch(canvas, path, corner, op.hatch)
        _fill_rect(canvas, op, corner, fill=None, pen=op.pen)
        return
    _fill_rect(canvas, op, corner, fill=op.fill, pen=op.pen)


def _fill_rect(
    canvas: Any,
    op: Rect,
    corner: tuple[float, float, float, float],
    *,
    fill: str | None,
    pen: Pen | None,
) -> None:
    shown = _set_inks(canvas, fill, pen)
    if not any(shown):
        return
    if op.radius:
        canvas.roundRect(*corner, op.radius, fill=shown[0], stroke=shown[1])
    else:
        canvas.rect(*corner, fill=shown[0], stroke=shown[1])


def _polygon(canvas: Any, op: Polygon) -> None:
    if not op.points:
        return
    if any(shown := _set_inks(canvas, op.fill, None)):
        canvas.drawPath(_path(canvas, op.points, closed=True), fill=1, stroke=0)
    if op.hatch is not None:
        xs, ys = [x for x, _ in op.points], [-y for _, y in op.points]
        box = (min(xs), min(ys), max(xs) - min(xs), max(ys) - min(ys))
        _hatch(canvas, _path(canvas, op.points, closed=True), box, op.hatch)
    shown = _set_inks(canvas, None, op.pen)
    if any(shown):
        canvas.drawPath(_path(canvas, op.points, closed=True), fill=0, stroke=1)


def _outline(canvas: Any, points: Iterable[Point], pen: Pen) -> None:
    run = list(points)
    if len(run) > 1:
        _set_inks(canvas, None, pen)
        canvas.drawPath(_path(canvas, run, closed=False), fill=0, stroke=1)


def _path(canvas: Any, points: Iterable[Point], *, closed: bool) -> Any:
    path = canvas.beginPath()
    (x, y), *others = points
    path.moveTo(x, -y)
    for x, y in others:
        path.lineTo(x, -y)
    if closed:
        path.close()
    return path


def _set_inks(canvas: Any, fill: str | None, pen: Pen | None) -> tuple[int, int]:
    if fill:
        canvas.setFillColorRGB(*rgb(fill))
    if pen:
        canvas.setStrokeColorRGB(*rgb(pen.colour))
        canvas.setLineWidth(pen.width)
        canvas.setLineJoin(1)
        canvas.setLineCap(0 if pen.dash else 1)
        canvas.setDash(list(pen.dash))
    return int(bool(fill)), int(bool(pen))


def _hatch(
    canvas: Any, path: Any, box: tuple[float, float, float, float], hatch: Hatch
) -> None:
    """Rule lines over a box and clip them to the path."""
    angle_deg, colour, width = _GRAIN[hatch]
    x, y, wide, high = box
    across = (-sin(radians(angle_deg)), cos(radians(angle_deg)))
    along = (across[1], -across[0])
    corners = [(x, y), (x + wide, y), (x, y + high), (x + wide, y + high)]
    depths = [px * across[0] + py * across[1] for px, py in corners]
    reaches = [px * along[0] + py * along[1] for px, py in corners]
    step = max(_GRAIN_STEP, (max(depths) - min(depths)) / _MOST_RULES)
    canvas.saveState()
    canvas.clipPath(path, stroke=0, fill=0)
    _set_inks(canvas, None, Pen(colour, width))
    rules = []
    depth = min(depths) + step / 2
    while depth < max(depths):
        ends = [
            (depth * across[0] + r * along[0], depth * across[1] + r * along[1])
            for r in (min(reaches), max(reaches))
        ]
        rules.append((*ends[0], *ends[1]))
        depth += step
    canvas.lines(rules)
    canvas.restoreState()


def _text(canvas: Any, op: Text) -> None:
    words = fitted(one_line(op.words))
    face = typeface(op.weight)
    shift = -face.width(words, size=op.size) * _SIDES[op.anchor]
    if not op.rotate_deg:
        written = Written(op.x + shift, -op.y, words, face, op.colour)
        put_words(canvas, [written], size=op.size, halo=op.halo)
        return
    canvas.saveState()
    canvas.translate(op.x, -op.y)
    canvas.rotate(op.rotate_deg)
    written = Written(shift, 0.0, words, face, op.colour)
    put_words(canvas, [written], size=op.size, halo=op.halo)
    canvas.restoreState()
