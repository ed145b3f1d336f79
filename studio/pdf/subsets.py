"""Subsets of a typeface, cut out of its file and written out for any document once."""

import zlib
from collections.abc import Sequence
from functools import lru_cache
from typing import Any, Final, NamedTuple

from reportlab.pdfbase import pdfdoc
from reportlab.pdfbase.ttfonts import SUBSETN, TTFontFace, makeToUnicodeCMap

_LATER: Final = b"\0"


class Written(pdfdoc.PDFObject):
    """An object of a document written out before, but for names and references."""

    __RefOnly__ = 1

    def __init__(self, *parts: Any) -> None:
        self._parts = parts

    def format(self, document: Any) -> bytes:
        """Return the bytes of the object in a document."""
        return b"".join(pdfdoc.format(part, document) for part in self._parts)


class Cut(NamedTuple):
    """What any document says of one subset of a face.

    The last two are cut where a document's own numbers come in: before the font's
    file; before its descriptor, its name, and what characters its codes stand for.
    """

    file: bytes
    codes: bytes
    descriptor: list[bytes]
    font: list[bytes]


class Face(TTFontFace):
    """A face that keeps the subsets that it has cut."""

    def __init__(self, path: str) -> None:
        super().__init__(path)
        self.cut = lru_cache(maxsize=16)(self._cut)

    def _cut(self, place: int, subset: tuple[int, ...]) -> Cut:
        name = f"{SUBSETN(place).decode()}+{self.face_name}"
        file: bytes = self.makeSubset(list(subset))
        length = {"Length1": len(file)}
        codes = makeToUnicodeCMap(name, subset).encode()
        return Cut(
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
