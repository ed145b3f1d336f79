"""What a PDF says, read back by a library that had no part in making it."""

from io import BytesIO
from typing import Any

from pypdf import PdfReader
from reportlab.platypus import Flowable

from studio.pdf.heads import SheetHead
from studio.pdf.paper import SHEET_PAPER, Imprint, Stationery, print_pages

HEAD = SheetHead(over="Over", title="Sheet", beside="Thursday 14 October 2027")
IMPRINT = Imprint(title="A sheet", author="Ada Marsh", foot="The foot")


def printed(*story: Flowable, stationery: Stationery = SHEET_PAPER) -> bytes:
    return print_pages(list(story), imprint=IMPRINT, head=HEAD, stationery=stationery)


def pages(paper: bytes) -> list[str]:
    return [page.extract_text() for page in PdfReader(BytesIO(paper)).pages]


def words(paper: bytes) -> str:
    return " ".join(" ".join(pages(paper)).split())


def fonts(paper: bytes) -> set[str]:
    found = set()
    for page in PdfReader(BytesIO(paper)).pages:
        resources: Any = page["/Resources"]
        for reference in resources["/Font"].values():
            font = reference.get_object()
            assert "/FontFile2" in font["/FontDescriptor"]
            found.add(str(font["/BaseFont"]))
    return found
