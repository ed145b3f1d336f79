"""The typefaces of paper: embedded TrueType, one subset a face, made once.

Source Sans by Adobe (OFL 1.1), the unmodified files of an installed package; then
the TrueType files that the setting PDF_FALLBACK_FONTS names, for other scripts.
"""

import logging
import string
import threading
from codecs import charmap_encode
from copy import copy
from functools import cache, lru_cache
from pathlib import Path
from typing import Any, Final

import font_source_sans_pro
from django.conf import settings
from django.core.exceptions import ImproperlyConfigured
from reportlab.lib.rl_accel import escapePDF
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFError, TTFont

from studio.pdf.subsets import Face, Written
from studio.scene.drawing import Weight

logger = logging.getLogger(__name__)

_FILES: Final[dict[Weight, str]] = {
    400: "Regular",
    600: "Semibold",
    700: "Bold",
    900: "Black",
}
ITALIC: Final = "Northsill-Italic"
# What nearly every sheet is made of. It opens each subset in one fixed order, so
# that equal subsets come back sheet after sheet and are cut out of the font once.
_COMMON: Final = (
    string.digits
    + string.ascii_letters
    + string.punctuation
    + " £€–—‘’“”…·×−°′″→⅓½•àâäçèéêëîïñôöùûüßÀÄÉÖÜ"
)


class Font(TTFont):
    """A registered font whose commonest characters have the same codes everywhere."""

    def __init__(self, name: str, path: str) -> None:
        super().__init__(name, path)
        self.face = Face(path)
        known = self.face.charToGlyph
        self._common = "".join(c for c in _COMMON if ord(c) in known)
        coded = super().splitString(self._common, self)
        self._codes = dict(zip(map(ord, self._common), coded[0][1], strict=False))
        self._codes[0xA0] = ord(" ")
        self._plain = frozenset(
            chr(code)
            for code, place in self._codes.items()
            if code == place and chr(code) not in "()\\"
        )
        self._first = self.state.pop(self)
        self.coded = lru_cache(maxsize=4096)(self._coded)

    def _coded(self, words: str) -> str | None:
        """Return words of common characters as a PDF string; None for others."""
        if words.isascii() and self._plain.issuperset(words):
            return f"({words})"
        try:
            return f"({escapePDF(charmap_encode(words, 'strict', self._codes)[0])})"
        except UnicodeEncodeError:
            return None

    def _open(self, doc: Any) -> None:
        """Begin the font's subsets in a document with the common characters."""
        self.state[doc] = state = copy(self._first)
        state.assignments = dict(state.assignments)
        state.subsets = [list(subset) for subset in state.subsets]

    def named(self, doc: Any) -> str:
        """Return the name in a document of the subset of common characters."""
        if opened := doc.fontMapping.get(self.fontName):
            return f"{opened}+0"
        if doc not in self.state:
            self._open(doc)
        name: str = self.getSubsetInternalName(0, doc)
        return name

    def addObjects(self, doc: Any) -> None:  # noqa: N802  (reportlab's name)
        """Join the subsets that were used to the document."""
        state = self.state.pop(doc)
        for place, subset in enumerate(state.subsets):
            cut = self.face.cut(place, tuple(subset))
            name = f"{state.internalName}+{place}"
            key = f"{self.fontName}+{place}"
            codes = doc.Reference(Written(cut.codes), f"codes:{key}")
            file = doc.Reference(Written(cut.file), f"file:{key}")
            before, after = cut.descriptor
            descriptor = Written(before, file, after)
            described = doc.Reference(descriptor, f"descriptor:{key}")
            one, two, three, four = cut.font
            font = Written(one, described, two, f"/{name}", three, codes, four)
            doc.Reference(font, name)
            doc.idToObject["BasicFonts"].dict[name] = font

    def splitString(  # noqa: N802  (reportlab's name)
        self, text: str, doc: Any, encoding: str = "utf-8"
    ) -> list[tuple[int, bytes]]:
        """Return the text as pairs of a subset and the codes in it."""
        if doc not in self.state:
            self._open(doc)
        try:
            return [(0, charmap_encode(text, "strict", self._codes)[0])]
        except UnicodeEncodeError:
            pairs: list[tuple[int, bytes]] = super().splitString(text, doc, encoding)
            return pairs

    def covers(self, character: str) -> bool:
        """Say whether the font has a glyph of its own for the character."""
        return bool(self.face.charToGlyph.get(ord(character), 0))

    def advance(self, character: str) -> float:
        """Return how far a character moves the pen, in thousandths of the size."""
        return float(self.face.getCharWidth(ord(character)))


_lock = threading.Lock()


@lru_cache(maxsize=64)
def _registered(name: str, path: str) -> Font | None:
    try:
        font = Font(name, path)
    except (TTFError, OSError) as fault:
        logger.warning("%s cannot be used on paper: %s", path, fault)
        return None
    pdfmetrics.registerFont(font)
    return font


@cache
def fallback_paths() -> tuple[str, ...]:
    """Return the paths that the setting names; none where there are no settings.

    It is read once: a change of the setting takes a new start.
    """
    try:
        paths = getattr(settings, "PDF_FALLBACK_FONTS", ())
    except ImproperlyConfigured:
        return ()
    return tuple(map(str, paths))


@lru_cache(maxsize=32)
def chain(
    weight: Weight, *, italic: bool = False, fallbacks: tuple[str, ...] = ()
) -> tuple[Font, ...]:
    """Return the fonts to look in for a glyph, best first.

    Source Sans Italic has no Greek or Cyrillic, so the upright stands behind it. A
    fallback file that cannot be used is logged and passed over.
    """
    wanted = [(f"Northsill-{weight}", _path(_FILES[weight]))]
    if italic:
        wanted.insert(0, (ITALIC, _path("It")))
    wanted += [(f"Northsill-Fallback-{Path(p).stem}", p) for p in fallbacks]
    with _lock:
        fonts = [_registered(name, path) for name, path in wanted]
    return tuple(font for font in fonts if font is not None)


def _path(face: str) -> str:
    folder = Path(font_source_sans_pro.font_directory)
    return str(folder / f"SourceSansPro-{face}.ttf")
