"""Which font draws which character, and how wide it runs.

Text is split into runs by coverage: Source Sans, then the fallback fonts, and a
drawn box where none has the glyph. Scripts that run from right to left are boxes
too: unshaped and in the wrong order they would be worse than missing.
"""

import unicodedata
from dataclasses import dataclass
from functools import lru_cache
from itertools import groupby
from typing import Final, NamedTuple

from studio.pdf.faces import Font, chain, fallback_paths
from studio.scene.drawing import Weight
from studio.scene.words import printable

BOX_EM: Final = 0.6
_RIGHT_TO_LEFT: Final = frozenset({"R", "AL", "AN"})
_LOOKALIKES: Final = {
    **dict.fromkeys(map(chr, [*range(0x2000, 0x2007), *range(0x2008, 0x200B)]), " "),
    "\u1680": " ",
    "\u205f": " ",
    "\u3000": " ",
    "\u2010": "-",
    "\u2011": "-",
    "\u2012": "–",
    "\u2015": "—",
}


@dataclass(frozen=True, slots=True)
class Run:
    """Characters that one font draws; without a font each is a drawn box."""

    font: Font | None
    words: str


class _Glyph(NamedTuple):
    font: Font | None
    advance: float


class _Glyphs(dict[str, _Glyph]):
    """What the fonts of one type have, looked up once a character."""

    def __init__(self, fonts: tuple[Font, ...]) -> None:
        super().__init__()
        self._fonts = fonts

    def __missing__(self, character: str) -> _Glyph:
        if unicodedata.bidirectional(character) not in _RIGHT_TO_LEFT:
            for font in self._fonts:
                if font.covers(character):
                    glyph = _Glyph(font, font.advance(character))
                    self[character] = glyph
                    return glyph
        # Not kept: nobody's text can fill the memory with what fonts lack.
        return _Glyph(None, 1000.0 * BOX_EM)


class Type:
    """A weight of type with everything that can stand in for it."""

    def __init__(self, fonts: tuple[Font, ...]) -> None:
        self._glyphs = _Glyphs(fonts)

    def runs(self, words: str) -> list[Run]:
        """Return the words as runs, each of one font."""
        found = groupby(words, key=lambda character: self._glyphs[character].font)
        return [Run(font, "".join(group)) for font, group in found]

    def width(self, words: str, *, size: float) -> float:
        """Return how wide the words run on one line, in the unit of `size`."""
        glyphs = self._glyphs
        return sum([glyphs[character].advance for character in words]) * size / 1000.0


@lru_cache(maxsize=32)
def _type(weight: Weight, *, italic: bool, fallbacks: tuple[str, ...]) -> Type:
    return Type(chain(weight, italic=italic, fallbacks=fallbacks))


def typeface(weight: Weight = 400, *, italic: bool = False) -> Type:
    """Return the type of a weight, with the fallback fonts of the settings."""
    return _type(weight, italic=italic, fallbacks=fallback_paths())


def fitted(words: str) -> str:
    """Return printable words, with rare spaces and hyphens as the common ones."""
    clean = printable(words)
    if clean.isascii():
        return clean
    return "".join(_LOOKALIKES.get(character, character) for character in clean)


def runs(words: str, *, weight: Weight = 400) -> list[Run]:
    """Return words, made printable, as runs of one font each."""
    return typeface(weight).runs(fitted(words))


def missing_glyphs(words: str) -> str:
    """Return the characters that paper would show as boxes, each once, in order.

    Empty when all can be printed: ask before a document is made, and say which.
    """
    boxes = (r.words for r in runs(words.replace("\n", " ")) if r.font is None)
    return "".join(dict.fromkeys("".join(boxes).replace("\n", "")))
