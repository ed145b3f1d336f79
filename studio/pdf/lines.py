"""Words broken into lines of a given width: no markup is read, so none can hurt."""

import re
from bisect import bisect_right
from collections.abc import Iterable, Iterator, Sequence
from functools import lru_cache
from itertools import accumulate, chain
from typing import Final, NamedTuple

from studio.pdf.fonts import Type, typeface
from studio.scene.drawing import Weight

# A line may break after a space, after a hyphen or slash between letters, after a
# dash that no digit follows, and between characters of Chinese, Japanese, Korean.
_CJK: Final = "[\u2e80-\u9fff\uac00-\ud7af\uf900-\ufaff\uff00-\uffef]"
_BREAK: Final = re.compile(
    r"(?<= )(?=[^ ])"
    r"|(?<=[^\W\d_][-/])(?=[^\W\d_])"
    r"|(?<=[–—])(?=[^ \d])"
    rf"|(?<={_CJK})(?=[^ ])|(?<=[^ ])(?={_CJK})"
)
_SLACK: Final = 1e-6


class Piece(NamedTuple):
    """Plain words with a look of their own inside a paragraph."""

    words: str
    weight: Weight | None = None
    colour: str | None = None
    italic: bool = False


class Span(NamedTuple):
    """Words of one line that look alike, and how wide they run in points."""

    piece: Piece
    words: str
    width: float


class SetLine(NamedTuple):
    """One line of spans, without the space at its end."""

    spans: tuple[Span, ...]
    width: float


class Measure(NamedTuple):
    """What a paragraph is set to: width and size in points, weight of plain words."""

    width: float
    size: float
    weight: Weight

    def type_of(self, piece: Piece) -> Type:
        """Return the type that a piece is set in."""
        return typeface(piece.weight or self.weight, italic=piece.italic)


_KEPT: Final = 400
"""Paragraphs up to so many characters are kept as they were broken."""


def broken(pieces: tuple[Piece, ...], measure: Measure) -> tuple[SetLine, ...]:
    """Return the lines of a paragraph; newlines in the pieces end a line too.

    A run without a break that is wider than the measure is cut between characters,
    so no line is wider, unless a single character is.
    """
    if sum(len(piece.words) for piece in pieces) > _KEPT:
        return _broken(pieces, measure)
    return _kept(pieces, measure)


def _broken(pieces: tuple[Piece, ...], measure: Measure) -> tuple[SetLine, ...]:
    if len(pieces) == 1 and "\n" not in pieces[0].words:
        line = _one_line(pieces[0], measure)
        return (line,) if line else tuple(_Paragraph(pieces, measure).lines())
    lines: list[SetLine] = []
    for paragraph in _paragraphs(pieces):
        if len(paragraph) == 1 and (line := _one_line(paragraph[0], measure)):
            lines.append(line)
            continue
        lines += _Paragraph(paragraph, measure).lines()
    return tuple(lines)


_kept = lru_cache(maxsize=2048)(_broken)


def _paragraphs(pieces: Iterable[Piece]) -> list[list[Piece]]:
    found: list[list[Piece]] = [[]]
    for piece in pieces:
        if "\n" not in piece.words:
            found[-1].append(piece)
            continue
        first, *others = piece.words.split("\n")
        found[-1].append(piece._replace(words=first))
        found += [[piece._replace(words=words)] for words in others]
    return found


def _one_line(piece: Piece, measure: Measure) -> SetLine | None:
    """Return words that fit one line as that line: most cells of tables do."""
    words = piece.words.rstrip(" ")
    width = measure.type_of(piece).width(words, size=measure.size)
    if width > measure.width + _SLACK:
        return None
    return SetLine((Span(piece, words, width),), width)


class _Paragraph:
    """Words without a newline, and the place of the pen before each character."""

    def __init__(self, pieces: Sequence[Piece], measure: Measure) -> None:
        self._pieces = pieces
        self._words = "".join([piece.words for piece in pieces])
        self._scale = measure.size / 1000.0
        self._limit = (measure.width + _SLACK) / self._scale
        advances = chain.from_iterable(
            measure.type_of(piece).advances(piece.words) for piece in pieces
        )
        self._pen = list(accumulate(advances, initial=0.0))  # thousandths of the size

    def lines(self) -> list[SetLine]:
        """Return the lines; a paragraph without words is one empty line."""
        length = len(self._words)
        if self._pen[length] <= self._limit:
            return [self._line(0, length)]
        breaks = [found.start() for found in _BREAK.finditer(self._words)]
        lines = []
        start = 0
        while start < length:
            end = self._end_of_line(start, breaks)
            lines.append(self._line(start, end))
            start = end
        return lines

    def _end_of_line(self, start: int, breaks: Sequence[int]) -> int:
        """Return where the line ends that begins at a place: the next begins there."""
        words, length = self._words, len(self._words)
        fit = bisect_right(self._pen, self._pen[start] + self._limit) - 1
        after = max(fit, start + 1)
        while after < length and words[after] == " ":
            after += 1  # space at the end of a line takes no room
        if after == length:
            return length
        place = bisect_right(breaks, after) - 1
        if place >= 0 and breaks[place] > start:
            return breaks[place]
        return after

    def _line(self, start: int, end: int) -> SetLine:
        while end > start and self._words[end - 1] == " ":
            end -= 1
        width = (self._pen[end] - self._pen[start]) * self._scale
        if len(self._pieces) == 1:
            span = Span(self._pieces[0], self._words[start:end], width)
            return SetLine((span,), width)
        return SetLine(tuple(self._spans(start, end)), width)

    def _spans(self, start: int, end: int) -> Iterator[Span]:
        first = 0
        for piece in self._pieces:
            last = first + len(piece.words)
            left, right = max(start, first), min(end, last)
            if left < right:
                width = (self._pen[right] - self._pen[left]) * self._scale
                yield Span(piece, self._words[left:right], width)
            first = last
