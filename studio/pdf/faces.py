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
from copy import copy
from functools import cache, lru_cache
from pathlib import Path
from typing import Any, Final, NamedTuple

import font_source_sans_pro
from django.conf import settings
from django.core.exceptions import ImproperlyConfigured
from reportlab.lib.rl_accel import escapePDF
from reportlab.pdfbase import pdfdoc, pdfmetrics
from reportlab.pdfbase.ttfonts import (
    SUBSETN,
    TTFError,
    TTFont,
    TTFontFace,
    makeToUnicodeCMap,
)

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
_LATER: Final = b"\0"


class _Written(pdfdoc.PDFObject):
    """An object of a document written out before, but for names and references."""

    __RefOnly__ = 1

    def __init__(self, *parts: Any) -> None:
        self._parts = parts

    def format(self, document: Any) -> bytes:
        """Return the bytes of the object in a document."""
        return b"".join(pdfdoc.format(part, document) for part in self._parts)


class _Cut(NamedTuple):
    """What any document says of one subset of a face.

    The last two are cut where a document's own numbers come in: before the font's
    file; before its descriptor, its name, and what characters its codes stand for.
    """

    file: bytes
    codes: bytes
    descriptor: list[bytes]
    font: list[bytes]


class _Face(TTFontFace):
    """A face that keeps the subsets that it has cut."""

    def __init__(self, path: str) -> None:
        super().__init__(path)
        self.cut = lru_cache(maxsize=16)(self._cut)

    def _cut(self, place: int, subset: tuple[int, ...]) -> _Cut:
        name = f"{SUBSETN(place).decode()}+{self.face_name}"
        file: bytes = self.makeSubset(list(subset))
        length = {"Length1": len(file)}
        codes = makeToUnicodeCMap(name, subset).encode()
        return _Cut(
            file=_stream(file, "/FlateDecode", length),
            codes=_stream(codes, "[ /FlateDecode ]", {}),
            descriptor=self._described(name).split(_LATER),
            font=self._font(name, subset).split(_LATER),
        )

    @property
    def face_name(self) -> str:
        """The name that the face has in its file."""
        return str((self.name + self.subfontNameX).decode())

    def _described(self, name: str) -> bytes:
        return _dictionary(
            {
                "Type": "/FontDescriptor",
                "Ascent": self.ascent,
                "CapHeight": self.capHeight,
                "Descent": self.descent,
                "Flags": self.flags & ~32 | 4,
                "FontBBox": pdfdoc.PDFArray(self.bbox),
                "FontName": pdfdoc.PDFName(name),
                "ItalicAngle": self.italicAngle,
                "StemV": self.stemV,
                "FontFile2": _LATER,
                "MissingWidth": self.defaultWidth,
            }
        )

    def _font(self, name: str, subset: Sequence[int]) -> bytes:
        return _dictionary(
            {
                "Type": "/Font",
                "Subtype": "/TrueType",
                "BaseFont": pdfdoc.PDFName(name),
                "Name": _LATER,
                "FirstChar": 0,
                "LastChar": len(subset) - 1,
                "Widths": pdfdoc.PDFArray(map(self.getCharWidth, subset)),
                "FontDescriptor": _LATER,
                "ToUnicode": _LATER,
            }
        )


def _dictionary(entries: dict[str, Any]) -> bytes:
    written: bytes = pdfdoc.PDFDictionary(entries).format(pdfdoc.DummyDoc())
    return written


def _stream(content: bytes, named: str, facts: dict[str, Any]) -> bytes:
    """Return a stream deflated, by the name of its filter."""
    stream = pdfdoc.PDFStream(content=zlib.compress(content), filters=[])
    stream.dictionary.dict |= {"Filter": named, **facts}
    written: bytes = stream.format(pdfdoc.DummyDoc())
    return written


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
        self._first = self.state.pop(self)
        self.coded = lru_cache(maxsize=4096)(self._coded)

    def _coded(self, words: str) -> str | None:
        """Return words of common characters as a PDF string; None for others."""
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
            codes = doc.Reference(_Written(cut.codes), f"codes:{key}")
            file = doc.Reference(_Written(cut.file), f"file:{key}")
            before, after = cut.descriptor
            descriptor = _Written(before, file, after)
            described = doc.Reference(descriptor, f"descriptor:{key}")
            one, two, three, four = cut.font
            font = _Written(one, described, two, f"/{name}", three, codes, four)
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
