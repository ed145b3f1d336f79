"""Tables and boxes that documents are built from, all of them grids of cells."""

from collections.abc import Sequence
from dataclasses import replace
from typing import Any, Final

from reportlab.platypus import Flowable

from studio.pdf.grid import Column, Grid, Look, Row, Stand
from studio.pdf.ink import rgb
from studio.pdf.marks import caution, dot, tick_box
from studio.pdf.stack import Cell, Stack
from studio.pdf.styles import (
    BODY,
    FACT,
    LABEL,
    LETTER,
    ROW,
    ROW_TITLE,
    SMALL,
    TOTAL,
    Style,
    right,
)
from studio.pdf.text import bold, rich, text
from studio.scene.drawing import Pen

HEAD_RULE: Final = Pen("ink", 1.2)
ROW_RULE: Final = Pen("g300", 0.5)
GROUP_RULE: Final = Pen("g400", 0.8)
TOTAL_RULE: Final = Pen("ink", 0.8)
_LETTER_NUMBER: Final = right(LETTER)
_TOTAL_NAME: Final = replace(TOTAL, size=14.0)
_TOTAL: Final = right(TOTAL)
_LINES: Final = Look(gap=8.0, above=4.0, below=5.5)
_TIGHT: Final = Look(gap=6.0, above=1.6, below=2.6, stand="middle")


def line_table(
    columns: Sequence[Column], rows: Sequence[Sequence[Cell]], *, look: Look = _LINES
) -> Grid:
    """Set rows under the columns' heads, which every page repeats.

    Columns whose style stands right have their heads on the right as well. The
    last row closes with an ink rule.
    """
    laid = [Row(cells=tuple(cells), rule=ROW_RULE) for cells in rows]
    if laid:
        laid[-1] = replace(laid[-1], rule=HEAD_RULE)
    head = Row(cells=tuple(column.head for column in columns), rule=HEAD_RULE)
    return Grid(columns, laid, head=head, look=look)


def item(title: str, detail: str = "") -> list[Flowable]:
    """Return the cell of a line item: its title in bold, the detail small beneath."""
    cell: list[Flowable] = [text(title, ROW_TITLE)]
    return [*cell, text(detail, SMALL)] if detail else cell


def sums(
    rows: Sequence[tuple[str, str]], *, total: tuple[str, str], width: float = 200.0
) -> Grid:
    """Set amounts on the right under each other, the total large over an ink rule."""
    columns = [
        Column(style=LETTER),
        Column(width=width * 0.52, style=_LETTER_NUMBER),
    ]
    laid = [Row(cells=pair) for pair in rows]
    if laid:
        laid[-1] = replace(laid[-1], rule=TOTAL_RULE)
    laid.append(Row(cells=(text(total[0], _TOTAL_NAME), text(total[1], _TOTAL))))
    return Grid(columns, laid, look=Look(above=2.5, below=2.5, stand="bottom"))


def side_by_side(
    *cells: Cell, shares: Sequence[float] = (), gap: float = 20.0, ruled: bool = False
) -> Grid:
    """Set cells beside each other, of equal width or by shares; all start at the top.

    With `ruled` a grey line stands between them.
    """
    parts = shares or [1.0] * len(cells)
    columns = [Column(share=share) for share in parts]
    pen = GROUP_RULE if ruled else None
    look = Look(gap=gap, above=0.0, below=0.0, uprights=pen)
    return Grid(columns, [Row(cells=cells)], look=look)


def columns_of_terms(terms: Sequence[tuple[str, str]]) -> Grid:
    """Set short terms beside each other under a grey rule, each under its heading."""
    cells = tuple([text(head, ROW_TITLE), text(words, ROW)] for head, words in terms)
    look = Look(gap=14.0, above=6.0, below=0.0, top_rule=GROUP_RULE)
    return Grid([Column() for _ in cells], [Row(cells=cells)], look=look)


def facts(
    pairs: Sequence[tuple[str, str]],
    *,
    style: Style = FACT,
    shares: Sequence[float] = (),
) -> Grid:
    """Set labels small above what they name large, side by side with lines between."""
    cells = tuple([text(label, LABEL), text(value, style)] for label, value in pairs)
    parts = shares or [1.0] * len(cells)
    look = Look(gap=14.0, above=0.0, below=3.0, uprights=GROUP_RULE)
    columns = [Column(share=share) for share in parts]
    return Grid(columns, [Row(cells=cells)], look=look)


def ruled_rows(
    columns: Sequence[Column],
    rows: Sequence[Sequence[Cell]],
    *,
    stand: Stand = "middle",
) -> Grid:
    """Set rows without a head, thin rules between them."""
    laid = [Row(cells=tuple(cells), rule=ROW_RULE) for cells in rows]
    if laid:
        laid[-1] = replace(laid[-1], rule=None)
    return Grid(columns, laid, look=replace(_TIGHT, stand=stand))


def tick_list(
    title: str, items: Sequence[str], *, style: Style = ROW
) -> list[Flowable]:
    """Set things to tick under a title, each beside a box big enough for a pencil."""
    rows = [Row(cells=(tick_box(), words)) for words in items]
    columns = [Column(width=12.0), Column(style=style)]
    boxes = Grid(columns, rows, look=_TIGHT)
    return [text(title, replace(ROW_TITLE, space_after=2.0)), boxes]


def bullet_list(items: Sequence[Cell], *, style: Style = BODY) -> Grid:
    """Set items under each other, each behind a dot."""
    mark = style.leading * 0.65
    rows = [Row(cells=(dot(width=mark), cell)) for cell in items]
    columns = [Column(width=mark), Column(style=style)]
    return Grid(columns, rows, look=Look(gap=3.0, above=0.0, below=3.0))


def caution_box(cautions: Sequence[tuple[str, str]]) -> "Boxed":
    """Set cautions in a frame: what is the matter in bold, then what to do."""
    style = replace(ROW, leading=13.2)
    rows = [
        (caution(), rich(bold(f"{matter} "), remedy, style=style))
        for matter, remedy in cautions
    ]
    columns = [Column(width=14.0), Column(style=style)]
    return Boxed(ruled_rows(columns, rows, stand="top"))


def write_in(
    columns: Sequence[Column], rows: Sequence[Sequence[Cell]], *, height: float = 23.5
) -> Grid:
    """Set a table to be written in by hand: empty cells with lines around them."""
    pen = Pen("g400", 0.6)
    laid = [Row(cells=tuple(cells), rule=pen, height=height) for cells in rows]
    head = Row(cells=tuple(column.head for column in columns), rule=HEAD_RULE)
    look = Look(gap=10.0, above=1.5, below=1.5, stand="middle", uprights=pen)
    return Grid(columns, laid, head=head, look=look)


def signature_lines(*labels: str, height: float = 34.0) -> Grid:
    """Set a line to sign on over each label."""
    columns = [Column() for _ in labels]
    blank = Row(cells=tuple(None for _ in labels), rule=TOTAL_RULE, height=height)
    named = Row(cells=tuple(text(label, LABEL) for label in labels))
    return Grid(columns, [blank, named], look=Look(gap=0.0, above=1.0, below=0.0))


class Boxed(Flowable):
    """Content in an ink frame, with a bar of colour on the left if one is given."""

    def __init__(
        self, content: Cell, *, bar: str | None = None, style: Style = BODY
    ) -> None:
        super().__init__()
        self._stack = Stack(content, style)
        self._bar = bar
        self._style = style
        self.width = self.height = 0.0

    def _edges(self) -> tuple[float, float]:
        return (9.0 + 10.0 if self._bar else 9.0), 9.0

    def wrap(self, width: float, _height: float) -> tuple[float, float]:
        """Return the width and height taken when set to a width, in points."""
        left, edge = self._edges()
        self.width = width
        self.height = self._stack.wrap(width - left - edge) + 2 * _PAD
        return self.width, self.height

    def split(self, width: float, height: float) -> list[Flowable]:
        """Return the part that fits and the rest, each in a frame of its own."""
        left, edge = self._edges()
        room = height - 2 * _PAD
        upper, lower = self._stack.split(width - left - edge, room)
        if not upper.parts or not lower.parts:
            return []
        return [
            Boxed(part.parts, bar=self._bar, style=self._style)
            for part in (upper, lower)
        ]

    def draw(self) -> None:
        """Draw the bar, the frame and the content."""
        canvas: Any = self.canv
        left, edge = self._edges()
        canvas.setStrokeColorRGB(*rgb("ink"))
        canvas.setLineWidth(1.4)
        if self._bar:
            canvas.setFillColorRGB(*rgb(self._bar))
            canvas.rect(0, 0, 9.0, self.height, stroke=1, fill=1)
        canvas.rect(0, 0, self.width, self.height, stroke=1, fill=0)
        top = self.height - _PAD
        self._stack.draw(canvas, left, top, self.width - left - edge)


_PAD: Final = 7.0
