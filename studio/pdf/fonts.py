"""Which font draws which character, and how wide it runs.

Text is split into runs by coverage: Source Sans, then the fallback fonts, and a
drawn box where none has the glyph. Scripts that run from right to left are boxes
too: unshaped and in the wrong order they would be worse than missing.
"""

import unicodedata
from collections.abc import Iterable
from functools import lru_cache
from itertools import groupby
from typing import Final, NamedTuple

from studio.pdf.faces import Font, chain, fallback_paths
from studio.scene.drawing import Weight
from studio.scene.words import printable

BOX_EM: Final = 0.6
_KEPT: Final = 200
"""Words up to so many characters are kept with their width."""
_RIGHT_TO_LEFT: Final = frozenset({"R", "AL", "AN"})
_LOOKALIKES: Final = {
    **dict.fromkeys([*range(0x2000, 0x2007), *range(0x2008, 0x200B)], " "),
    **dict.fromkeys([0x1680, 0x205F, 0x3000], " "),
    **dict.fromkeys([0x2010, 0x2011], "-"),
    0x2012: "–",
    0x2015: "—",
}


class Run(NamedTuple):
    """Characters that one font draws; without a font each is a drawn box."""

    font: Font | None
    words: str


class _FontOf(dict[str, Font | None]):
    """The font that draws a character, looked up once for each that a font has."""

    def __init__(self, fonts: tuple[Font, ...]) -> None:
        super().__init__()
        self._fonts = fonts

    def __missing__(self, character: str) -> Font | None:
        if unicodedata.bidirectional(character) not in _RIGHT_TO_LEFT:
            for font in self._fonts:
                if font.covers(character):
                    self[character] = font
                    return font
        # Not kept: nobody's text can fill the memory with what fonts lack.
        return None


class _AdvanceOf(dict[str, float]):
    """How far a character moves the pen, in thousandths of the type size."""

    def __init__(self, font_of: _FontOf) -> None:
        super().__init__()
        self._font_of = font_of

    def __missing__(self, character: str) -> float:
        font = self._font_of[character]
        if font is None:
            return 1000.0 * BOX_EM
        self[character] = font.advance(character)
        return self[character]


class Type:
    """A weight of type with everything that can stand in for it."""

    def __init__(self, fonts: tuple[Font, ...]) -> None:
        self.main = fonts[0]
        self._font_of = _FontOf(fonts)
        self._advance_of = _AdvanceOf(self._font_of)
        self._length = lru_cache(maxsize=4096)(self._added_up)

    def runs(self, words: str) -> list[Run]:
        """Return the words as runs, each of one font."""
        if words.isascii():  # Source Sans has all of it
            return [Run(self.main, words)] if words else []
        found = groupby(words, key=self._font_of.__getitem__)
        return [Run(font, "".join(group)) for font, group in found]

    def advances(self, words: str) -> Iterable[float]:
        """Return how far each character moves the pen, in thousandths of the size."""
        return map(self._advance_of.__getitem__, words)

    def width(self, words: str, *, size: float) -> float:
        """Return how wide the words run on one line, in the unit of `size`."""
        length = self._length if len(words) <= _KEPT else self._added_up
        return length(words) * size / 1000.0

    def _added_up(self, words: str) -> float:
        return sum(self.advances(words))


@lru_cache(maxsize=32)
def typeface(weight: Weight = 400, *, italic: bool = False) -> Type:
    """Return the type of a weight, with the fallback fonts of the settings."""
    return Type(chain(weight, italic=italic, fallbacks=fallback_paths()))


def fitted(words: str) -> str:
    """Return printable words, with rare spaces and hyphens as the common ones."""
    if words.isascii() and words.isprintable():
        return words
    clean = printable(words)
    return clean if clean.isascii() else clean.translate(_LOOKALIKES)


def runs(words: str, *, weight: Weight = 400) -> list[Run]:
    """Return words, made printable, as runs of one font each."""
    return typeface(weight).runs(fitted(words))


def missing_glyphs(words: str) -> str:
    """Return the characters that paper would show as boxes, each once, in order.

    Empty when all can be printed: ask before a document is made, and say which.
    """
    boxes = (r.words for r in runs(words.replace("\n", " ")) if r.font is None)
    return "".join(dict.fromkeys("".join(boxes).replace("\n", "")))
