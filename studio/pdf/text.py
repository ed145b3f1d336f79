"""Text on paper: the only way from words to something that is printed.

Words are never read as markup, so nothing that a person typed can open a file, hide
itself or stop a document: `<img src="/etc/passwd"/>` is printed as it stands.
"""

from collections.abc import Sequence
from dataclasses import replace
from typing import Any, Final

from reportlab.platypus import Flowable

from studio.pdf.fonts import fitted, typeface
from studio.pdf.ink import Written, put_words
from studio.pdf.lines import Measure, Piece, SetLine, broken
from studio.pdf.styles import BODY, SECTION, Style
from studio.scene.words import one_line

LONGEST: Final = 10_000
MOST_LINES: Final = 400
_CUT: Final = " … (cut: the text is too long to print)"
_SIDES: Final = {"start": 0.0, "middle": 0.5, "end": 1.0}


class Words(Flowable):
    """A paragraph of plain words, set in one style; it splits between lines."""

    def __init__(self, pieces: tuple[Piece, ...], style: Style) -> None:
        super().__init__()
        self._pieces = pieces
        self._kind = style
        self._lines: Sequence[SetLine] = ()
        self._set_to = -1.0
        self.spaceBefore = style.space_before
        self.spaceAfter = style.space_after
        self.keepWithNext = int(style.keep_with_next)
        self.width = self.height = 0.0

    def wrap(self, width: float, _height: float) -> tuple[float, float]:
        """Return the width and height taken when set to a width, in points."""
        if self._pieces and width != self._set_to:
            kind = self._kind
            measure = Measure(width, kind.size, kind.weight)
            self._lines = broken(self._pieces, measure)
            self._set_to = width
        self.width = width
        self.height = len(self._lines) * self._kind.leading
        return self.width, self.height

    def split(self, width: float, height: float) -> list[Flowable]:
        """Return the part that fits and the rest, or nothing where no line fits."""
        self.wrap(width, height)
        fit = int((height + 0.01) // self._kind.leading)
        if fit >= len(self._lines):
            return [self]
        if fit == len(self._lines) - 1 and fit > 2:
            fit -= 1  # no line stands alone on the next page
        if fit < 1 or (fit == 1 and len(self._lines) > 3):
            return []
        first = self._part(self._lines[:fit], replace(self._kind, space_after=0.0))
        rest = self._part(self._lines[fit:], replace(self._kind, space_before=0.0))
        return [first, rest]

    def _part(self, lines: Sequence[SetLine], style: Style) -> "Words":
        part = Words((), replace(style, keep_with_next=False))
        part._lines = lines
        part._set_to = self._set_to
        return part

    def draw(self) -> None:
        """Write the lines on the canvas, with the lower left corner at the origin."""
        self.write(self.canv, 0.0, 0.0)

    def write(self, canvas: Any, left: float, bottom: float) -> None:
        """Write the lines on a canvas, with their lower left corner at a place."""
        kind = self._kind
        side = _SIDES[kind.align]
        y = bottom + self.height - kind.size
        written = []
        for line in self._lines:
            x = left + (self.width - line.width) * side
            for piece, words, width in line.spans:
                face = typeface(piece.weight or kind.weight, italic=piece.italic)
                written.append(Written(x, y, words, face, piece.colour or kind.colour))
                x += width
            y -= kind.leading
        put_words(canvas, written, size=kind.size)


def text(value: str, style: Style = BODY) -> Words:
    """Set plain words as a paragraph; a newline in them ends a line."""
    return Words(_capped([Piece(fitted(value))]), style)


def rich(*pieces: str | Piece, style: Style = BODY) -> Words:
    """Set a paragraph of plain words and of pieces made by `bold` and its like."""
    whole = (piece if isinstance(piece, Piece) else Piece(piece) for piece in pieces)
    return Words(_capped([p._replace(words=fitted(p.words)) for p in whole]), style)


def heading(value: str) -> Words:
    """Set words as the heading of a section, which stays with what follows."""
    return text(value, SECTION)


def bold(value: str) -> Piece:
    """Return words in bold for `rich`."""
    return Piece(value, weight=700)


def semibold(value: str) -> Piece:
    """Return words in semibold for `rich`."""
    return Piece(value, weight=600)


def muted(value: str) -> Piece:
    """Return words in grey for `rich`."""
    return Piece(value, colour="g700")


def italic(value: str) -> Piece:
    """Return words in italics for `rich`: the studio's own words, not names."""
    return Piece(value, italic=True)


def _capped(pieces: list[Piece]) -> tuple[Piece, ...]:
    """Return pieces cut, and marked as cut, after so many characters or lines."""
    if len(pieces) == 1 and len(pieces[0].words) <= MOST_LINES:
        return tuple(pieces)
    room, lines = LONGEST, MOST_LINES
    kept: list[Piece] = []
    for piece in pieces:
        parts = piece.words.split("\n", lines)
        words = "\n".join(parts[:lines])[:room]
        kept.append(piece._replace(words=words))
        if words != piece.words:
            return (*kept, Piece(_CUT))
        room -= len(words)
        lines -= len(parts) - 1
    return tuple(kept) or (Piece(""),)


def line_width(value: str, style: Style = BODY) -> float:
    """Return how wide words run on one line, in points."""
    return typeface(style.weight).width(fitted(one_line(value)), size=style.size)


def fit(
    value: str, style: Style, *, width: float, smallest: float
) -> tuple[str, Style]:
    """Return words and style that fit one line of a width, in points.

    The type shrinks as far as `smallest`; what is still too wide ends in "…".
    """
    words = fitted(one_line(value[:LONGEST]))
    wide = line_width(words, style)
    if wide <= width:
        return words, style
    size = style.size * width / wide
    if size >= smallest:
        return words, replace(style, size=size)
    shrunk = replace(style, size=smallest)
    while words and (over := line_width(words + "…", shrunk) / width) > 1.0:
        words = words[: min(len(words) - 1, int(len(words) / over) + 1)]
    return words.rstrip() + "…", shrunk


def write_line(
    canvas: Any, value: str, at: tuple[float, float], style: Style = BODY
) -> None:
    """Write one line on a canvas; `at` is where its start, middle or end stands."""
    words = fitted(one_line(value[:LONGEST]))
    face = typeface(style.weight)
    x = at[0] - face.width(words, size=style.size) * _SIDES[style.align]
    written = Written(x, at[1], words, face, style.colour)
    put_words(canvas, [written], size=style.size)
