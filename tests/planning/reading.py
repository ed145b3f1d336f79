"""What a paper says, page by page, read by a library that had no part in making it."""

from io import BytesIO

from pypdf import PdfReader


def pages(paper: bytes) -> list[str]:
    reader = PdfReader(BytesIO(paper))
    return [" ".join(page.extract_text().split()) for page in reader.pages]


def words(paper: bytes) -> str:
    return " ".join(pages(paper))
