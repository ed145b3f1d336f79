"""Words broken into lines of a given width: no markup is read, so none can hurt."""

import re
from collections import deque
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from itertools import groupby
from typing import Final

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


@dataclass(frozen=True, slots=True)
class Piece:
    """Plain words with a look of their own inside a paragraph."""

    words: str
    weight: Weight | None = None
    colour: str | None = None
    italic: bool = False


@dataclass(frozen=True, slots=True)
class Span:
    """Words of one line that look alike, and how wide they run in points."""

    piece: Piece
    width: float


@dataclass(frozen=True, slots=True)
class SetLine:
    """One line of spans, without the space at its end."""

    spans: tuple[Span, ...]
    width: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Measure:
    """What a paragraph is set to: width and size in points, weight of plain words."""

    width: float
    size: float
    weight: Weight

    def type_of(self, piece: Piece) -> Type:
        """Return the type that a piece is set in."""
        return typeface(piece.weight or self.weight, italic=piece.italic)

    def span(self, piece: Piece) -> Span:
        """Return a piece as a measured span."""
        return Span(piece, self.type_of(piece).width(piece.words, size=self.size))


def broken(pieces: Iterable[Piece], measure: Measure) -> list[SetLine]:
    """Return the lines of a paragraph; newlines in the pieces end a line too.

    A run without a break that is wider than the measure is cut between characters,
    so no line is wider, unless a single character is.
    """
    lines: list[SetLine] = []
    for paragraph in _paragraphs(pieces):
        spans = tuple(measure.span(piece) for piece in paragraph)
        width = sum(span.width for span in spans)
        if width <= measure.width + _SLACK:
            lines.append(SetLine(spans, width))
            continue
        setter = _Setter(measure)
        for word in _words(paragraph):
            setter.add(word)
        lines += setter.finished()
    return lines


def _paragraphs(pieces: Iterable[Piece]) -> list[list[Piece]]:
    found: list[list[Piece]] = [[]]
    for piece in pieces:
        first, *others = piece.words.split("\n")
        found[-1].append(replace(piece, words=first))
        found += [[replace(piece, words=words)] for words in others]
    return found


def _words(pieces: list[Piece]) -> Iterator[list[Piece]]:
    """Yield what cannot be broken, with the spaces after it, in parts that look alike.

    The end of a piece is no place to break: a comma stays with the bold word.
    """
    if len(pieces) == 1:
        for chunk in _BREAK.split(pieces[0].words):
            yield [replace(pieces[0], words=chunk)]
        return
    place = 0
    waiting = deque(pieces)
    for chunk in _BREAK.split("".join(piece.words for piece in pieces)):
        word: list[Piece] = []
        lacking = len(chunk)
        while lacking:
            piece = waiting[0]
            part = piece.words[place : place + lacking]
            word.append(replace(piece, words=part))
            lacking -= len(part)
            place += len(part)
            if place == len(piece.words):
                waiting.popleft()
                place = 0
        yield word


class _Setter:
    """The line being filled, and those that are full."""

    def __init__(self, measure: Measure) -> None:
        self._measure = measure
        self._full: list[SetLine] = []
        self._spans: list[Span] = []
        self._width = 0.0

    def add(self, word: list[Piece]) -> None:
        """Put a word with the spaces after it on this line, or on the next."""
        spans = [self._measure.span(part) for part in word]
        last = word[-1].words
        tail = self._measure.span(
            replace(word[-1], words=last[len(last.rstrip(" ")) :])
        )
        ink = sum(span.width for span in spans) - tail.width
        if self._spans and self._exceeds(ink):
            self._end_line()
        if self._exceeds(ink):
            self._cut(word)
        else:
            self._put(spans)

    def finished(self) -> list[SetLine]:
        """Return all lines; a paragraph without words is one empty line."""
        self._end_line()
        return self._full

    def _exceeds(self, width: float) -> bool:
        return self._width + width > self._measure.width + _SLACK

    def _put(self, spans: list[Span]) -> None:
        self._spans += spans
        self._width += sum(span.width for span in spans)

    def _cut(self, word: list[Piece]) -> None:
        for piece in word:
            for character in piece.words:
                part = self._measure.span(replace(piece, words=character))
                if self._spans and character != " " and self._exceeds(part.width):
                    self._end_line()
                self._put([part])

    def _end_line(self) -> None:
        pieces = _joined(span.piece for span in self._spans)
        if pieces:
            pieces[-1] = replace(pieces[-1], words=pieces[-1].words.rstrip(" "))
        spans = tuple(self._measure.span(piece) for piece in pieces)
        self._full.append(SetLine(spans, sum(span.width for span in spans)))
        self._spans, self._width = [], 0.0


def _joined(pieces: Iterable[Piece]) -> list[Piece]:
    """Return neighbours that look alike as one piece."""
    return [
        Piece("".join(piece.words for piece in alike), *look)
        for look, alike in groupby(pieces, key=_look)
    ]


def _look(piece: Piece) -> tuple[Weight | None, str | None, bool]:
    return piece.weight, piece.colour, piece.italic
