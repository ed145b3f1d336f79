"""A finished paper as a list of strokes and words at fixed places, to draw again.

Read off the pages of a PDF, in points of the page: no layout, no nested drawings, inks
named only where they change. What a bare canvas takes for such a list is the floor of
what the same paper can take.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field, replace
from io import BytesIO
from math import atan2, degrees, hypot
from typing import Any, Final

from pypdf import PdfReader
from pypdf.generic import ContentStream

from studio.pdf.faces import chain

Step = tuple[str, tuple[Any, ...]]
"""A method of a canvas and what it is given."""
Matrix = tuple[float, float, float, float, float, float]
_FONTS: Final = {chain(w)[0].face.name.decode(): w for w in (400, 600, 700)}
_INKS: Final = {
    "rg": "setFillColorRGB",
    "RG": "setStrokeColorRGB",
    "J": "setLineCap",
    "j": "setLineJoin",
}
_PAINTS: Final = {"S": (1, 0), "f": (0, 1), "f*": (0, 1), "B": (1, 1), "B*": (1, 1)}
_MEANT: Final = re.compile(rb"<(\w\w)> <(\w{4})>")


@dataclass(frozen=True, slots=True)
class _Hand:
    """What a page's code has set: where it draws, and with which inks."""

    matrix: Matrix = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)
    inks: dict[str, tuple[Any, ...]] = field(default_factory=dict)
    is_clipped: bool = False

    def at(self, x: float, y: float) -> tuple[float, float]:
        a, b, c, d, e, f = self.matrix
        return a * x + c * y + e, b * x + d * y + f

    def within(self, inner: Matrix) -> _Hand:
        a, b, c, d, _, _ = self.matrix
        ia, ib, ic, id_, ie, if_ = inner
        turned = (a * ia + c * ib, b * ia + d * ib, a * ic + c * id_, b * ic + d * id_)
        return replace(self, matrix=(*turned, *self.at(ie, if_)))

    @property
    def scale(self) -> float:
        return hypot(self.matrix[0], self.matrix[1])

    @property
    def turn_deg(self) -> float:
        return degrees(atan2(self.matrix[1], self.matrix[0]))

    def inked(self, method: str, *values: Any) -> _Hand:
        return replace(self, inks={**self.inks, method: values})


class _Page:
    """Reads one page's code into steps."""

    def __init__(self, page: Any) -> None:
        self.steps: list[Step] = []
        self._hand = _Hand()
        self._kept: list[_Hand] = []
        self._set: dict[str, tuple[Any, ...]] = {}
        self._set_before: list[dict[str, tuple[Any, ...]]] = []
        self._path: list[Step] = []
        self._clips = False
        self._words = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)
        self._mode = 0
        self._type = ("", 0.0)
        self._fonts = {
            name: _font(one.get_object())
            for name, one in page["/Resources"]["/Font"].items()
        }
        for values, operator in ContentStream(page.get_contents(), None).operations:
            self._read(operator.decode(), values)

    def _read(self, operator: str, values: Sequence[Any]) -> None:
        if operator in _INKS:
            self._hand = self._hand.inked(_INKS[operator], *map(float, values))
        elif operator in _PAINTS:
            self._paint(*_PAINTS[operator])
        elif reader := _READERS.get(operator):
            reader(self, *values)
        elif operator != "ET":
            raise ValueError(operator)

    def _keep(self) -> None:
        self._kept.append(self._hand)
        self._hand = replace(self._hand, is_clipped=False)

    def _give_back(self) -> None:
        if self._hand.is_clipped:
            self.steps.append(("restoreState", ()))
            self._set = self._set_before.pop()
        self._hand = self._kept.pop()

    def _move(self, *matrix: Any) -> None:
        a, b, c, d, e, f = map(float, matrix)
        self._hand = self._hand.within((a, b, c, d, e, f))

    def _width(self, width: Any) -> None:
        scaled = float(width) * self._hand.scale
        self._hand = self._hand.inked("setLineWidth", scaled)

    def _dash(self, dash: Any, _phase: Any) -> None:
        scaled = [float(length) * self._hand.scale for length in dash]
        self._hand = self._hand.inked("setDash", scaled)

    def _go(self, method: str, *values: Any) -> None:
        pairs = zip(values[::2], values[1::2], strict=True)
        places = [v for x, y in pairs for v in self._hand.at(float(x), float(y))]
        self._path.append((method, tuple(places)))

    def _box(self, *corner: Any) -> None:
        x, y, wide, high = map(float, corner)
        scale = self._hand.scale
        at = (*self._hand.at(x, y), wide * scale, high * scale)
        self._path.append(("rect", at))

    def _paint(self, stroke: int, fill: int) -> None:
        path, self._path = self._path, []
        names = ["setFillColorRGB"] if fill else []
        if stroke:
            names += ["setStrokeColorRGB", "setLineWidth", "setDash"]
            names += ["setLineCap", "setLineJoin"]
        self._ink(names)
        methods = [method for method, _ in path]
        if methods == ["rect"]:
            self.steps.append(("rect", (*path[0][1], stroke, fill)))
        elif methods == ["moveTo", "lineTo"] * (len(path) // 2):
            ends = [(*a[1], *b[1]) for a, b in zip(path[::2], path[1::2], strict=True)]
            one = len(ends) == 1
            self.steps.append(("line", ends[0]) if one else ("lines", (ends,)))
        else:
            self.steps.append(("drawPath", (path, stroke, fill)))

    def _clip(self) -> None:
        self._clips = True

    def _end_path(self) -> None:
        """Forget a path, or clip to it: `n` stands before paths as well."""
        if self._clips:
            self.steps += [("saveState", ()), ("clipPath", (self._path, 0, 0))]
            self._set_before.append(dict(self._set))
            self._hand = replace(self._hand, is_clipped=True)
        self._clips, self._path = False, []

    def _ink(self, names: Iterable[str]) -> None:
        for name in names:
            values = self._hand.inks.get(name)
            if values is not None and self._set.get(name) != values:
                self._set[name] = values
                self.steps.append((name, values))

    def _font(self, name: Any, size: Any) -> None:
        self._type = (str(name), float(size))

    def _place(self, *matrix: Any) -> None:
        a, b, c, d, e, f = map(float, matrix)
        self._words = (a, b, c, d, e, f)

    def _render(self, mode: Any) -> None:
        self._mode = int(mode)

    def _show(self, codes: Any) -> None:
        font, meant = self._fonts[self._type[0]]
        raw = codes.original_bytes if hasattr(codes, "original_bytes") else codes
        words = "".join(meant[code] for code in raw)
        at = self._hand.within(self._words)
        mode = self._mode or None
        names = ["setFillColorRGB"]
        if mode:
            names += ["setStrokeColorRGB", "setLineWidth", "setLineJoin"]
        hand = replace(
            at, inks={**at.inks, "setFont": (font, self._type[1] * at.scale)}
        )
        self._hand, kept = hand, self._hand
        self._ink([*names, "setFont"])
        self._hand = kept
        x, y = at.matrix[4:]
        if abs(at.turn_deg) < 0.01:
            self.steps.append(("drawString", (x, y, words, mode)))
            return
        self.steps += [("saveState", ()), ("translate", (x, y))]
        self.steps.append(("rotate", (at.turn_deg,)))
        self.steps.append(("drawString", (0.0, 0.0, words, mode)))
        self.steps.append(("restoreState", ()))

    def _begin_words(self) -> None:
        self._mode = 0


def _font(font: Any) -> tuple[str, dict[int, str]]:
    """Return the registered name of an embedded font, and what its codes mean."""
    face = str(font["/BaseFont"]).partition("+")[2]
    meant = _MEANT.findall(font["/ToUnicode"].get_data())
    codes = {int(code, 16): chr(int(letter, 16)) for code, letter in meant}
    return f"Northsill-{_FONTS[face]}", codes


_READERS: Final[dict[str, Callable[..., None]]] = {
    "q": _Page._keep,
    "Q": _Page._give_back,
    "cm": _Page._move,
    "w": _Page._width,
    "d": _Page._dash,
    "m": lambda page, *values: page._go("moveTo", *values),
    "l": lambda page, *values: page._go("lineTo", *values),
    "c": lambda page, *values: page._go("curveTo", *values),
    "h": lambda page: page._go("close"),
    "re": _Page._box,
    "W": _Page._clip,
    "W*": _Page._clip,
    "n": _Page._end_path,
    "BT": _Page._begin_words,
    "Tf": _Page._font,
    "Tm": _Page._place,
    "Tr": _Page._render,
    "Tj": _Page._show,
}


def steps_of(paper: bytes) -> list[list[Step]]:
    """Return the steps of each page of a paper."""
    return [_Page(page).steps for page in PdfReader(BytesIO(paper)).pages]
