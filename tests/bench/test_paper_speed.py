"""A quick look that paper keeps its speed; `tests.bench.paper` measures.

The bounds are far below the goals: six invoices are few, and the machine is busy.
"""

from io import BytesIO

from pypdf import PdfReader

from tests.bench.pairwise import in_turn, ratio
from tests.bench.papers import papers
from tests.bench.platypus import print_plainly
from tests.bench.printing import as_one, works


def test_invoices_are_printed_quicker_than_by_plain_means() -> None:
    samples = in_turn(works(6), rounds=2)

    assert ratio(samples, "one PDF, plainly", "one PDF").median > 1.7
    assert ratio(samples, "files, plainly", "files").median > 1.6


def test_the_plain_invoices_are_the_same_invoices() -> None:
    # A ratio says nothing unless both sides printed the same thing.
    invoices = papers(8)[6:]

    assert letters(print_plainly(invoices)) == letters(as_one(invoices))


def letters(paper: bytes) -> list[list[str]]:
    """Return the letters of each page, whatever their order on it."""
    read = PdfReader(BytesIO(paper)).pages
    return [sorted("".join(page.extract_text().split())) for page in read]
