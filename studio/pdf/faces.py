"""The typefaces of paper: embedded TrueType, one subset a face, made once.

Source Sans by Adobe (OFL 1.1), the unmodified files of an installed package; then
the TrueType files that the setting PDF_FALLBACK_FONTS names, for other scripts.
"""

import logging
import string
import threading
import zlib
from codecs import charmap_encode
from collections.abc import Sequence
from functools import cache, lru_cache
from pathlib import Path
from typing import Any, Final

import font_source_sans_pro
from django.conf import settings
from django.core.exceptions import ImproperlyConfigured
from reportlab.pdfbase import pdfdoc, pdfmetrics
from reportlab.pdfbase.ttfonts import TTFError, TTFont, TTFontFace

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


class _Stream(pdfdoc.PDFStream):
    """A font file that has been deflated before."""

    def __init__(self, deflated: bytes, length: int) -> None:
        super().__init__(content=deflated, filters=[])
        self.dictionary["Filter"] = pdfdoc.PDFName("FlateDecode")
        self.dictionary["Length1"] = length


class _Face(TTFontFace):
    """A face that keeps the subsets that it has cut."""

    def __init__(self, path: str) -> None:
        super().__init__(path)
        self.cut = lru_cache(maxsize=16)(self._cut)

    def _cut(self, subset: tuple[int, ...]) -> tuple[bytes, int]:
        file: bytes = self.makeSubset(list(subset))
        return zlib.compress(file), len(file)

    def addSubsetObjects(  # noqa: N802  (reportlab's name)
        self, doc: Any, fontname: str, subset: Sequence[int]
    ) -> Any:
        """Return a reference to the descriptor of a subset that joins the document."""
        deflated, length = self.cut(tuple(subset))
        file = doc.Reference(_Stream(deflated, length), f"fontFile:{fontname}")
        descriptor = pdfdoc.PDFDictionary(
            {
                "Type": "/FontDescriptor",
                "Ascent": self.ascent,
                "CapHeight": self.capHeight,
                "Descent": self.descent,
                "Flags": self.flags & ~32 | 4,
                "FontBBox": pdfdoc.PDFArray(self.bbox),
                "FontName": pdfdoc.PDFName(fontname),
                "ItalicAngle": self.italicAngle,
                "StemV": self.stemV,
                "FontFile2": file,
                "MissingWidth": self.defaultWidth,
            }
        )
        return doc.Reference(descriptor, f"fontDescriptor:{fontname}")


class Font(TTFont):
    """A registered font whose commonest characters have the same codes everywhere."""

    def __init__(self, name: str, path: str) -> None:
        super().__init__(name, path)
        self.face = _Face(path)
        known = self.face.charToGlyph
        self._common = "".join(c for c in _COMMON if ord(c) in known)
        coded = super().splitString(self._common, self)
        self._codes = dict(zip(map(ord, self._common), coded[0][1], strict=False))
        self._codes[0xA0] = ord(" ")
        del self.state[self]

    def splitString(  # noqa: N802  (reportlab's name)
        self, text: str, doc: Any, encoding: str = "utf-8"
    ) -> list[tuple[int, bytes]]:
        """Return the text as pairs of a subset and the codes in it."""
        if doc not in self.state:
            super().splitString(self._common, doc)
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
