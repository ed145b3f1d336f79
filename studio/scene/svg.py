"""The painter for pages: a drawing as one inline SVG element.

It uses presentation attributes only, no style, script or link, so it stands under
a content security policy that allows nothing inline.
"""

import re
from collections.abc import Iterable
from html import escape
from math import isfinite

from studio.scene.drawing import (
    Circle,
    Drawing,
    Hatch,
    Line,
    Op,
    Pen,
    Polygon,
    Polyline,
    Rect,
    Text,
)
from studio.scene.tokens import hex_of
from studio.scene.words import one_line

_NAME = re.compile(r"[A-Za-z][A-Za-z0-9_-]*")
_CLASSES = re.compile(r"[A-Za-z0-9_ -]*")
_PATTERNS = {
    Hatch.RISING: (45, "g500", 1.6),
    Hatch.FALLING: (-45, "g600", 1.6),
    Hatch.UPRIGHT: (0, "g500", 1.2),
}
_HALO_WIDTH = 3


class SvgMarkup(str):
    """Finished markup; template engines that know `__html__` leave it as it is."""

    __slots__ = ()

    def __html__(self) -> str:
        """Return the markup itself: everything in it has been escaped."""
        return str(self)


def to_svg(
    drawing: Drawing, *, ident: str, css_class: str = "chart", hidden: bool = False
) -> SvgMarkup:
    """Paint a drawing as an `<svg>` element for a page.

    `ident` must be unlike that of any other drawing on the page: the names of its
    parts start with it. A hidden drawing is passed over by screen readers, which
    is right only where the same facts stand beside it in words.
    Raises ValueError for an ident, class, colour or length that cannot stand in
    markup; words are escaped, whatever they are.
    """
    if not _NAME.fullmatch(ident) or not _CLASSES.fullmatch(css_class):
        raise ValueError(f"{ident!r} or {css_class!r} cannot name a drawing")
    size = f"0 0 {_number(drawing.width)} {_number(drawing.height)}"
    shapes = "".join(_shape(op, ident) for op in drawing.ops)
    return SvgMarkup(
        f'<svg xmlns="http://www.w3.org/2000/svg" class="{css_class}"'
        f' viewBox="{size}" {_spoken(drawing, ident, hidden=hidden)}'
        f"{_defs(drawing.ops, ident)}{shapes}</svg>"
    )


def _spoken(drawing: Drawing, ident: str, *, hidden: bool) -> str:
    if hidden:
        return 'aria-hidden="true" focusable="false">'
    title = f'<title id="{ident}-t">{_words(drawing.title)}</title>'
    if not drawing.description:
        return f'role="img" aria-labelledby="{ident}-t">{title}'
    return (
        f'role="img" aria-labelledby="{ident}-t {ident}-d">{title}'
        f'<desc id="{ident}-d">{_words(drawing.description)}</desc>'
    )


def _defs(ops: Iterable[Op], ident: str) -> str:
    hatches = {op.hatch for op in ops if isinstance(op, Rect | Polygon)} - {None}
    patterns = "".join(
        _pattern(hatch, ident) for hatch in _PATTERNS if hatch in hatches
    )
    return f"<defs>{patterns}</defs>" if patterns else ""


def _pattern(hatch: Hatch, ident: str) -> str:
    angle, colour, width = _PATTERNS[hatch]
    return (
        f'<pattern id="{ident}-{hatch.value}" width="6" height="6"'
        f' patternUnits="userSpaceOnUse" patternTransform="rotate({angle})">'
        f'<path d="M3 0V6" stroke="{hex_of(colour)}" stroke-width="{width}"/></pattern>'
    )


def _shape(op: Op, ident: str) -> str:
    match op:
        case Rect():
            return _rect(op, ident)
        case Line():
            ends = ((op.x1, op.y1), (op.x2, op.y2))
            return f'<polyline points="{_points(ends)}" fill="none"{_pen(op.pen)}/>'
        case Polyline():
            return (
                f'<polyline points="{_points(op.points)}" fill="none"{_pen(op.pen)}/>'
            )
        case Polygon():
            start = f'<polygon points="{_points(op.points)}"'
            return _filled(start, op, ident)
        case Circle():
            return (
                f'<circle cx="{_number(op.x)}" cy="{_number(op.y)}"'
                f' r="{_number(op.radius)}"{_fill(op.fill)}{_pen(op.pen)}/>'
            )
        case Text():
            return _text(op)


def _rect(op: Rect, ident: str) -> str:
    radius = f' rx="{_number(op.radius)}"' if op.radius else ""
    start = (
        f'<rect x="{_number(op.x)}" y="{_number(op.y)}"'
        f' width="{_number(op.width)}" height="{_number(op.height)}"{radius}'
    )
    return _filled(start, op, ident)


def _filled(start: str, op: Rect | Polygon, ident: str) -> str:
    if op.hatch is None:
        return f"{start}{_fill(op.fill)}{_pen(op.pen)}/>"
    under = f"{start}{_fill(op.fill)}/>" if op.fill else ""
    grain = f' fill="url(#{ident}-{op.hatch.value})"'
    return f"{under}{start}{grain}{_pen(op.pen)}/>"


def _text(op: Text) -> str:
    x, y = _number(op.x), _number(op.y)
    turn = (
        f' transform="rotate({_number(-op.rotate_deg)} {x} {y})"'
        if op.rotate_deg
        else ""
    )
    halo = (
        f' stroke="{hex_of(op.halo)}" stroke-width="{_HALO_WIDTH}"'
        ' stroke-linejoin="round" paint-order="stroke"'
        if op.halo
        else ""
    )
    anchor = f' text-anchor="{op.anchor}"' if op.anchor != "start" else ""
    return (
        f'<text x="{x}" y="{y}" font-size="{_number(op.size)}"'
        f' font-weight="{op.weight}"{_fill(op.colour)}{anchor}{turn}{halo}>'
        f"{_words(op.words)}</text>"
    )


def _fill(colour: str | None) -> str:
    return f' fill="{hex_of(colour)}"' if colour else ' fill="none"'


def _pen(pen: Pen | None) -> str:
    if pen is None:
        return ""
    cap = "butt" if pen.dash else "round"
    dash = " ".join(map(_number, pen.dash))
    return (
        f' stroke="{hex_of(pen.colour)}" stroke-width="{_number(pen.width)}"'
        f' stroke-linejoin="round" stroke-linecap="{cap}"'
        + (f' stroke-dasharray="{dash}"' if dash else "")
    )


def _points(points: Iterable[tuple[float, float]]) -> str:
    return " ".join(f"{_number(x)},{_number(y)}" for x, y in points)


def _number(value: float) -> str:
    if not isfinite(value):
        raise ValueError(f"{value} is no length")
    figure = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if figure == "-0" else figure


def _words(words: str) -> str:
    return escape(one_line(words))
