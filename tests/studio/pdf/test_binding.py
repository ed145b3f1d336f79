"""Papers bound as one: read back by a library that had no part in it."""

from io import BytesIO
from typing import Any

import pytest
from pypdf import PdfReader, PdfWriter
from pypdf.generic import NameObject, TextStringObject

from invoicing.lists.documents import bound_together
from studio.pdf.binding import NotOurPaperError, bound
from studio.pdf.text import text
from tests.studio.pdf.reading import pages, printed

PAPERS = [
    printed(text("Ada")),
    printed(text("\n".join(f"Line {n}" for n in range(120)))),
    printed(text("Анна 山 Zoë (1 0 R)")),
]


def drawn(paper: bytes) -> list[bytes]:
    contents: list[Any] = [page.get_contents() for page in reader(paper).pages]
    return [one.get_data() for one in contents]


def reader(paper: bytes) -> PdfReader:
    return PdfReader(BytesIO(paper), strict=True)


def test_pages_follow_each_other_and_say_what_they_said() -> None:
    book = bound(PAPERS)

    assert pages(book) == [page for paper in PAPERS for page in pages(paper)]
    assert drawn(book) == [page for paper in PAPERS for page in drawn(paper)]
    assert [page.mediabox for page in reader(book).pages] == [
        page.mediabox for paper in PAPERS for page in reader(paper).pages
    ]


def test_what_papers_share_is_kept_once() -> None:
    one, ten = bound(PAPERS[:1]), bound(PAPERS[:1] * 10)

    assert len(reader(ten).pages) == 10
    assert ten.count(b"/FontFile2") == one.count(b"/FontFile2")
    assert len(ten) < 2 * len(one)


def test_equal_pages_are_pages_of_their_own() -> None:
    book = reader(bound(PAPERS[:1] * 2))

    first, second = (page.indirect_reference for page in book.pages)
    assert first is not None
    assert second is not None
    assert first.idnum != second.idnum


def test_the_language_is_told() -> None:
    catalog: Any = reader(bound(PAPERS)).trailer["/Root"]

    assert catalog["/Lang"] == "en-GB"


def by_another_program(*, password: str = "") -> bytes:
    writer, out = PdfWriter(clone_from=BytesIO(PAPERS[0])), BytesIO()
    writer.pages[0][NameObject("/Note")] = TextStringObject("1 0 R")
    if password:
        del writer.pages[0]["/Note"]
        writer.encrypt(password, algorithm="RC4-128")
    writer.write(out)
    return out.getvalue()


@pytest.mark.parametrize(
    "paper",
    [
        b"",
        b"no paper",
        by_another_program(),
        by_another_program(password="sesame"),
        PAPERS[0][:-200],
        PAPERS[0].replace(b"/Type /Page\n", b"/Type /Nope\n"),
        PAPERS[0].replace(b"/Rotate 0", b"/Rota (0)"),
        PAPERS[0].replace(b"/PDF /Text", b"99 0 R    "),
        PAPERS[0].replace(b"/Count 1", b"/Cropp 1"),
    ],
    ids=[
        *("nothing", "words", "another", "locked", "cut"),
        *("no page", "string", "astray", "tree"),
    ],
)
def test_what_is_laid_out_otherwise_is_refused(paper: bytes) -> None:
    assert paper != PAPERS[0]
    with pytest.raises(NotOurPaperError):
        bound([PAPERS[1], paper])


def test_what_another_program_wrote_is_bound_all_the_same() -> None:
    book = bound_together([PAPERS[1], by_another_program()])

    assert pages(book) == [*pages(PAPERS[1]), *pages(PAPERS[0])]
