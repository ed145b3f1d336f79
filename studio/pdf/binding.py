"""Papers that this studio printed, bound as one; what they share is kept once.

It reads only what `print_pages` writes, in which every paper brings the same typefaces
with it. Pages keep what they draw byte by byte.
"""

import re
from collections.abc import Iterable
from functools import partial
from typing import Final

_START: Final = re.compile(rb"startxref\s+(\d+)\s+%%EOF\s*\Z")
_COUNT: Final = re.compile(rb"xref\s+0 (\d+)\s")
_ENTRY: Final = re.compile(rb"(\d{10}) 00000 n")
_ROOT: Final = re.compile(rb"/Root (\d+) 0 R")
_OBJECT: Final = re.compile(rb"(\d+) 0 obj\s")
_REFERENCE: Final = re.compile(rb"\b(\d+) 0 R\b")
_PAGES: Final = re.compile(rb"/Pages (\d+) 0 R")
_KIDS: Final = re.compile(rb"/Kids \[([^\]]*)\]")
_LENGTH: Final = re.compile(rb"/Length (\d+)")
_LANG: Final = re.compile(rb"/Lang (\(\w+(?:-\w+)*\))")
_TREE: Final = re.compile(
    rb"<<\s*/Count \d+\s*/Kids \[[^\]]*\]\s*/Type /Pages\s*>>\s*\Z"
)
_CATALOG_NUMBER: Final = 1
_TREE_NUMBER: Final = 2


class NotOurPaperError(ValueError):
    """Bytes that are not laid out as this studio's printer lays them out."""


def bound(papers: Iterable[bytes]) -> bytes:
    """Return the pages of several papers as one PDF, in their order."""
    book = _Book()
    for paper in papers:
        book.add(_Paper(paper))
    return book.written()


class _Paper:
    """The objects of one PDF by their numbers, each in its bytes."""

    def __init__(self, content: bytes) -> None:
        start = _number(_START, content[-64:])
        table, _, trailer = content[start:].partition(b"trailer")
        places = [int(place) for place in _ENTRY.findall(table)]
        whole = len(places) + 1 == _number(_COUNT, table) and places == sorted(places)
        if not whole or b"/Encrypt" in trailer:
            raise NotOurPaperError
        ends = [*places[1:], start]
        self._objects = [
            _inside(content[place:end], number)
            for number, (place, end) in enumerate(zip(places, ends, strict=True), 1)
        ]
        catalog = self.object(_number(_ROOT, trailer))
        self.tree = _number(_PAGES, catalog)
        self.lang = b"".join(_LANG.findall(catalog)[:1])
        pages = self.object(self.tree)
        if not _TREE.match(pages):
            raise NotOurPaperError
        kids = _KIDS.findall(pages)[0]
        self.pages = [int(kid) for kid in _REFERENCE.findall(kids)]

    def object(self, number: int) -> bytes:
        """Return what one object says, without its number."""
        if not 0 < number <= len(self._objects):
            raise NotOurPaperError
        return self._objects[number - 1]


class _Book:
    """A PDF that grows by papers; equal objects of theirs are one object of it."""

    def __init__(self) -> None:
        self._objects = [b"", b""]  # the catalog and the tree of pages, written last
        self._known: dict[bytes, int] = {}
        self._pages: list[int] = []
        self._lang = b""

    def add(self, paper: _Paper) -> None:
        """Add the pages of a paper and all that they draw upon."""
        self._lang = self._lang or paper.lang
        moved = {paper.tree: _TREE_NUMBER}
        for number in paper.pages:
            page = self._moved(paper, moved, paper.object(number))
            if b"/Type /Page\n" not in page:
                raise NotOurPaperError
            self._objects.append(page)
            self._pages.append(len(self._objects))

    def _moved(self, paper: _Paper, moved: dict[int, int], written: bytes) -> bytes:
        """Return an object with the numbers that it refers to as they are here."""
        head, stream = _parted(written)
        if b"(" in head:  # words could look like a reference
            raise NotOurPaperError
        return _REFERENCE.sub(partial(self._place, paper, moved), head) + stream

    def _place(
        self, paper: _Paper, moved: dict[int, int], found: re.Match[bytes]
    ) -> bytes:
        number = int(found[1])
        if number not in moved:
            moved[number] = 0  # until it has its place: none leads back to itself
            written = self._moved(paper, moved, paper.object(number))
            place = self._known.setdefault(written, len(self._objects) + 1)
            if place > len(self._objects):
                self._objects.append(written)
            moved[number] = place
        if not moved[number]:
            raise NotOurPaperError
        return b"%d 0 R" % moved[number]

    def written(self) -> bytes:
        """Return the whole as a PDF."""
        kids = b" ".join(b"%d 0 R" % number for number in self._pages)
        lang = b" /Lang " + self._lang if self._lang else b""
        self._objects[0] = b"<< /Type /Catalog /Pages %d 0 R%b >>\n" % (
            _TREE_NUMBER,
            lang,
        )
        self._objects[1] = b"<< /Type /Pages /Count %d /Kids [ %b ] >>\n" % (
            len(self._pages),
            kids,
        )
        parts = [b"%PDF-1.4\n%\xe2\xe3\xcf\xd3\n"]
        place, places = len(parts[0]), []
        for number, written in enumerate(self._objects, start=1):
            part = b"%d 0 obj\n%bendobj\n" % (number, written)
            places.append(b"%010d 00000 n \n" % place)
            parts.append(part)
            place += len(part)
        size = len(places) + 1
        parts += [b"xref\n0 %d\n0000000000 65535 f \n" % size, *places]
        parts.append(
            b"trailer\n<< /Size %d /Root %d 0 R >>\n" % (size, _CATALOG_NUMBER)
        )
        parts.append(b"startxref\n%d\n%%%%EOF\n" % place)
        return b"".join(parts)


def _number(pattern: re.Pattern[bytes], content: bytes) -> int:
    found = pattern.search(content)
    if not found:
        raise NotOurPaperError
    return int(found[1])


def _inside(written: bytes, number: int) -> bytes:
    """Return what stands between an object's number and its end."""
    opening = _OBJECT.match(written)
    if not opening or int(opening[1]) != number or not written.endswith(b"endobj\n"):
        raise NotOurPaperError
    return written[opening.end() : -len(b"endobj\n")]


def _parted(written: bytes) -> tuple[bytes, bytes]:
    """Return an object's dictionary, and its stream with what surrounds it."""
    opening = b"\nstream\n"
    head, mark, rest = written.partition(opening)
    if mark and rest[_number(_LENGTH, head) :].strip() != b"endstream":
        raise NotOurPaperError
    return head, mark + rest
