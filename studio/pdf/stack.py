"""Flowables above each other, as the content of a cell or a box."""

from collections.abc import Sequence
from typing import Any, Final, TypeAlias

from reportlab.platypus import Flowable

from studio.pdf.scene import Drawn
from studio.pdf.styles import BODY, Style
from studio.pdf.text import Words, text

_SIDES: Final = {"CENTER": 0.5, "RIGHT": 1.0}
Cell: TypeAlias = str | Flowable | Sequence[str | Flowable] | None


class Stack:
    """What stands in a cell, set to the cell's width; it splits where it can."""

    def __init__(self, cell: Cell, style: Style = BODY) -> None:
        self.parts = _flowables(cell, style)
        self._heights: list[float] = []
        self._set_to: tuple[float, int] | None = None
        self.height = 0.0

    def wrap(self, width: float) -> float:
        """Return the height taken at a width, in points."""
        if self._set_to == (width, len(self.parts)):
            return self.height
        self._set_to = (width, len(self.parts))
        self._heights = [float(p.wrap(width, 1e6)[1]) for p in self.parts]
        self.height = sum(self._heights)
        if len(self.parts) > 1:
            self.height += sum(map(self._gap, range(len(self.parts))))
        return self.height

    def _gap(self, place: int) -> float:
        if place == 0:
            return 0.0
        above, below = self.parts[place - 1], self.parts[place]
        return float(max(above.getSpaceAfter(), below.getSpaceBefore()))

    def draw(self, canvas: Any, x: float, top: float, width: float) -> None:
        """Draw the parts from the top down, each on its own side of the width."""
        y = top
        for place, part in enumerate(self.parts):
            y -= self._gap(place) + self._heights[place]
            if isinstance(part, Words):
                part.write(canvas, x, y)
                continue
            slack = width - float(part.width)
            left = x + slack * _SIDES.get(getattr(part, "hAlign", "LEFT"), 0.0)
            if isinstance(part, Drawn):
                part.write(canvas, left, y)
            else:
                part.drawOn(canvas, left, y)

    def split(self, width: float, room: float) -> tuple["Stack", "Stack"]:
        """Return what fits the room and the rest; either may be empty."""
        self.wrap(width)
        upper, lower = Stack(None), Stack(None)
        for place, part in enumerate(self.parts):
            need = self._gap(place) + self._heights[place]
            if need <= room + 0.01:
                upper.parts.append(part)
                room -= need
                continue
            cut = part.split(width, room - self._gap(place)) if room > 0 else []
            if cut and cut[0] is not part:
                upper.parts.append(cut[0])
                lower.parts += cut[1:]
            else:
                lower.parts.append(part)
            lower.parts += self.parts[place + 1 :]
            break
        return upper, lower


def _flowables(cell: Cell, style: Style) -> list[Any]:
    if cell is None or cell == "":
        return []
    if isinstance(cell, str):
        return [text(cell, style)]
    if isinstance(cell, Flowable):
        return [cell]
    return [text(part, style) if isinstance(part, str) else part for part in cell]
