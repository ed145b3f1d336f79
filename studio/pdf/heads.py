"""What stands above the text of a page: a letterhead, or the head of a work sheet."""

from dataclasses import dataclass, replace
from typing import Any, Final, Protocol

from studio.pdf.ink import rgb
from studio.pdf.scene import paint
from studio.pdf.styles import BODY, DISPLAY, FOOT, SMALL, TITLE, Style, right
from studio.pdf.text import fit, line_width, write_line
from studio.scene.drawing import Drawing

MM: Final = 72.0 / 25.4
_NAME: Final = Style(size=15.0, weight=700)
_NOTE: Final = Style(size=9.0, colour="g700")


@dataclass(frozen=True, slots=True)
class Area:
    """The part of a page between its side margins; points from the lower left."""

    left: float
    right: float
    top: float

    @property
    def width(self) -> float:
        """Return the width in points."""
        return self.right - self.left


class Head(Protocol):
    """The head of every page of a document."""

    def height(self, page: int) -> float:
        """Return how far the head reaches below the page's upper edge, in points."""

    def draw(self, canvas: Any, area: Area, page: int, pages: int) -> None:
        """Draw the head of a page out of so many."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LetterHead:
    """The studio's letterhead on the first page, one line of it on the others.

    `kind` is set large ("Quote"), `mark` under it ("Q-2027-018, version 2"). The
    `strip` of the day runs right across as the rule of the head, with up to three
    notes under it, each at a share (0 to 1) of the width.
    """

    name: str
    contact: tuple[str, ...] = ()
    kind: str = ""
    mark: str = ""
    strip: Drawing | None = None
    notes: tuple[tuple[float, str], ...] = ()

    def height(self, page: int) -> float:
        """Return how far the head reaches below the page's upper edge, in points."""
        if page > 1:
            return 25.0 * MM
        lines = max(len(self.contact[:4]), 2)
        return 20.0 * MM + 15.0 + lines * 12.6 + (48.0 if self.strip else 24.0)

    def draw(self, canvas: Any, area: Area, page: int, pages: int) -> None:
        """Draw the head of a page out of so many."""
        if page > 1:
            self._draw_later(canvas, area)
            return
        y = area.top - 20.0 * MM
        half = area.width / 2 - 6.0
        name, style = fit(self.name, _NAME, width=half, smallest=10.0)
        write_line(canvas, name, (area.left, y), style)
        for place, line in enumerate(self.contact[:4], start=1):
            grey = replace(BODY, colour="g700")
            words, style = fit(line, grey, width=half, smallest=7.0)
            write_line(canvas, words, (area.left, y - 2.4 - place * 12.6), style)
        kind, style = fit(self.kind, right(DISPLAY), width=half, smallest=15.0)
        write_line(canvas, kind, (area.right, y - 8.0), style)
        grey = right(replace(BODY, colour="g700"))
        mark, style = fit(self.mark, grey, width=half, smallest=7.0)
        write_line(canvas, mark, (area.right, y - 27.6), style)
        if self.strip:
            lines = max(len(self.contact[:4]), 2)
            self._draw_strip(canvas, area, y - 2.4 - lines * 12.6 - 34.4)

    def _draw_later(self, canvas: Any, area: Area) -> None:
        y = area.top - 15.0 * MM
        words = ", ".join(part for part in (self.kind, self.mark) if part)
        half = area.width / 2 - 6.0
        name, style = fit(self.name, replace(SMALL, weight=600), width=half, smallest=7)
        write_line(canvas, name, (area.left, y), style)
        mark, style = fit(words, right(SMALL), width=half, smallest=7.0)
        write_line(canvas, mark, (area.right, y), style)
        rule(canvas, area, y - 6.0, width=0.8)

    def _draw_strip(self, canvas: Any, area: Area, y: float) -> None:
        if self.strip is None:
            return
        scale = area.width / self.strip.width
        paint(canvas, self.strip, (area.left, y), scale=scale)
        end = area.left
        for place, (share, note) in enumerate(self.notes[:3]):
            style = _NOTE if place == 0 else replace(_NOTE, weight=600, colour="ink")
            words, style = fit(note, style, width=area.width, smallest=6.0)
            wide = line_width(words, style)
            x = min(max(area.left + share * area.width, end), area.right - wide)
            write_line(canvas, words, (x, y - 10.0), style)
            end = x + wide + 8.0


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetHead:
    """The head of a work sheet, alike on every page: what, for whom, when, page."""

    over: str
    title: str
    beside: str = ""

    def height(self, page: int) -> float:
        """Return how far the head reaches below the page's upper edge, in points."""
        return 25.0 * MM if page else 0.0

    def draw(self, canvas: Any, area: Area, page: int, pages: int) -> None:
        """Draw the head of a page out of so many."""
        y = area.top - 11.0 * MM
        counted = f"Page {page} of {pages}"
        write_line(
            canvas, counted, (area.right, y), right(replace(SMALL, colour="ink"))
        )
        room = area.width - line_width(counted, SMALL) - 12.0
        small = replace(SMALL, weight=600, colour="ink")
        over, style = fit(self.over, small, width=room, smallest=7.0)
        write_line(canvas, over, (area.left, y), style)
        date = right(Style(size=14.0, weight=700))
        beside, style = fit(self.beside, date, width=area.width * 0.45, smallest=8.0)
        write_line(canvas, beside, (area.right, y - 24.5), style)
        room = area.width - line_width(beside, style) - 14.0
        title, style = fit(self.title, TITLE, width=room, smallest=12.0)
        write_line(canvas, title, (area.left, y - 25.0), style)
        rule(canvas, area, y - 34.0, width=2.2)


def rule(canvas: Any, area: Area, y: float, *, width: float) -> None:
    """Draw an ink rule across the area."""
    canvas.saveState()
    canvas.setStrokeColorRGB(*rgb("ink"))
    canvas.setLineWidth(width)
    canvas.line(area.left, y, area.right, y)
    canvas.restoreState()


def draw_foot(canvas: Any, area: Area, left: str, beside: str) -> None:
    """Draw the foot of a page: words on the left, and shorter ones on the right."""
    beside, style = fit(beside, right(FOOT), width=area.width / 3, smallest=6.0)
    write_line(canvas, beside, (area.right, area.top), style)
    room = area.width - line_width(beside, style) - 12.0
    words, style = fit(left, FOOT, width=room, smallest=6.0)
    write_line(canvas, words, (area.left, area.top), style)
