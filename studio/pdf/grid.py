"""A grid of cells: the one table of paper, from line items to boxes to tick.

Words in cells are set by `studio.pdf.text`; a head is repeated on every page, and a
row that is taller than the room left is carried on overleaf.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import accumulate
from typing import Any, Final, Literal

from reportlab.platypus import Flowable

from studio.pdf.ink import put_rule, rgb
from studio.pdf.stack import Cell, Stack
from studio.pdf.styles import BODY, HEAD, Style, centred, right
from studio.scene.drawing import Pen

Stand = Literal["top", "middle", "bottom"]
_TALL: Final = 110.0  # a row from this height on may be parted between pages
_ROOM: Final = 45.0  # and only where this much of it can stay
_HEADS: Final = {"start": HEAD, "middle": centred(HEAD), "end": right(HEAD)}
_SIDES: Final = {"top": 0.0, "middle": 0.5, "bottom": 1.0}


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """A column: its width in points, or a share of what is left; its cells' style."""

    width: float | None = None
    share: float = 1.0
    style: Style = BODY
    head: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """Cells from left to right; a rule beneath, a ground, and a least height."""

    cells: tuple[Cell, ...]
    rule: Pen | None = None
    fill: str | None = None
    height: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """Space and lines of a grid, in points.

    `gap` lies between columns; `uprights` draws lines in the middle of the gaps.
    """

    gap: float = 6.0
    above: float = 3.0
    below: float = 3.0
    stand: Stand = "top"
    top_rule: Pen | None = None
    uprights: Pen | None = None
    space_before: float = 0.0
    space_after: float = 0.0


class Grid(Flowable):
    """Rows of cells over columns, under a head that each page repeats."""

    def __init__(
        self,
        columns: Sequence[Column],
        rows: Sequence[Row],
        *,
        head: Row | None = None,
        look: Look = Look(),
    ) -> None:
        super().__init__()
        self._columns = tuple(columns)
        self._look = look
        self._head = self._laid_head(head) if head else None
        styles = [column.style for column in columns]
        self._rows = [_Laid(row, styles) for row in rows]
        self.spaceBefore = look.space_before
        self.spaceAfter = look.space_after
        self.hAlign = "LEFT"
        self.width = self.height = 0.0
        self._set_to = -1.0
        self._widths: list[float] = []
        self._no_room_below = 0.0

    def _laid_head(self, head: Row) -> "_Laid":
        heads = [_HEADS[column.style.align] for column in self._columns]
        return _Laid(head, heads, is_head=True)

    def wrap(self, width: float, _height: float) -> tuple[float, float]:
        """Return the width and height taken when set to a width, in points."""
        if width != self._set_to:
            self._set_to = width
            self._widths = widths = self._widths_in(width)
            self.width = sum(widths) + self._look.gap * (len(widths) - 1)
            self.height = sum(row.wrap(widths, self._look) for row in self._all_rows())
        return self.width, self.height

    def split(self, width: float, height: float) -> list[Flowable]:
        """Return the rows that fit and the rest, or nothing where none fits."""
        self.wrap(width, height)
        if height <= self._no_room_below:
            return []
        room = height - (self._head.height if self._head else 0.0)
        ends = list(accumulate(row.height for row in self._rows))
        fit = sum(end <= room + 0.01 for end in ends)
        if fit == len(self._rows):
            return [self]
        left = room - (ends[fit - 1] if fit else 0.0)
        parts = self._rows[fit].split(self._widths, left, self._look)
        is_last = parts is None and fit == len(self._rows) - 1 and fit > 2
        if is_last:
            fit -= 1  # the last line of a table does not stand alone
        upper = self._rows[:fit] + ([parts[0]] if parts else [])
        lower = ([parts[1]] if parts else []) + self._rows[fit + bool(parts) :]
        rest = self._with(lower)
        if is_last:  # else one of its lines would go back to where it came from
            rest._no_room_below = height - sum(row.height for row in upper) + 0.01
        return [self._with(upper), rest] if upper else []

    def draw(self) -> None:
        """Draw rules, grounds and cells, from the top edge down."""
        y = self.height
        if self._look.top_rule:
            put_rule(self.canv, self._look.top_rule, (0.0, y), (self.width, y))
        for row in self._all_rows():
            row.draw(self.canv, y, self._widths, self._look)
            y -= row.height

    def _all_rows(self) -> "list[_Laid]":
        return [self._head, *self._rows] if self._head else self._rows

    def _widths_in(self, width: float) -> list[float]:
        fixed = sum(column.width or 0.0 for column in self._columns)
        gaps = self._look.gap * (len(self._columns) - 1)
        shares = sum(c.share for c in self._columns if c.width is None)
        spare = max(width - fixed - gaps, 0.0) / (shares or 1.0)
        squeeze = min((width - gaps) / fixed, 1.0) if fixed else 1.0
        return [
            column.share * spare if column.width is None else column.width * squeeze
            for column in self._columns
        ]

    def _with(self, rows: "list[_Laid]") -> "Grid":
        part = Grid(self._columns, (), look=self._look)
        part._head = self._head
        part._rows = rows
        return part


class _Laid:
    """A row whose cells have become stacks, with its height once it is wrapped."""

    def __init__(
        self, row: Row, styles: Sequence[Style], *, is_head: bool = False
    ) -> None:
        self.row = row
        self.is_head = is_head
        self.stacks = [
            Stack(cell, style) for cell, style in zip(row.cells, styles, strict=True)
        ]
        self.height = 0.0

    def wrap(self, widths: Sequence[float], look: Look) -> float:
        """Return the height of the row with the space above and below its cells."""
        inner = [s.wrap(width) for s, width in zip(self.stacks, widths, strict=True)]
        spread = look.above + look.below
        self.height = max(max(inner, default=0.0) + spread, self.row.height)
        return self.height

    def split(
        self, widths: Sequence[float], room: float, look: Look
    ) -> "tuple[_Laid, _Laid] | None":
        """Return the row in two, or None where it is better kept whole."""
        inner = room - look.above - look.below
        if self.height < _TALL or inner < _ROOM:
            return None
        cut = [s.split(w, inner) for s, w in zip(self.stacks, widths, strict=True)]
        if not any(upper.parts for upper, _ in cut):
            return None
        first = self._part([upper for upper, _ in cut], replace(self.row, rule=None))
        rest = self._part([lower for _, lower in cut], self.row)
        return first, rest

    def _part(self, stacks: list[Stack], row: Row) -> "_Laid":
        part = _Laid(replace(row, cells=(), height=0.0), ())
        part.stacks = stacks
        return part

    def draw(
        self, canvas: Any, top: float, widths: Sequence[float], look: Look
    ) -> None:
        """Draw the row beneath a height on the canvas."""
        wide = sum(widths) + look.gap * (len(widths) - 1)
        if self.row.fill:
            canvas.setFillColorRGB(*rgb(self.row.fill))
            canvas.rect(0, top - self.height, wide, self.height, stroke=0, fill=1)
        x = 0.0
        room = self.height - look.above - look.below
        for place, (stack, width) in enumerate(zip(self.stacks, widths, strict=True)):
            if place and look.uprights and not self.is_head:
                middle = x - look.gap / 2
                foot = (middle, top - self.height)
                put_rule(canvas, look.uprights, (middle, top), foot)
            slack = (room - stack.height) * _SIDES[look.stand]
            stack.draw(canvas, x, top - look.above - slack, width)
            x += width + look.gap
        if self.row.rule:
            y = top - self.height
            put_rule(canvas, self.row.rule, (0.0, y), (wide, y))
