"""A call sheet with its charts, and the same strokes and words at fixed places."""

from collections.abc import Iterable, Sequence
from datetime import UTC, datetime
from functools import partial
from io import BytesIO
from typing import Any, Final

from reportlab.pdfgen.canvas import Canvas

from planning.callsheets.documents import print_call_sheet
from planning.callsheets.printed import PrintedCallSheet
from planning.callsheets.queries import printed_call_sheet
from studio.pdf.paper import SHEET_PAPER
from tests.bench.fixed_places import Step, steps_of
from tests.bench.pairwise import Work
from tests.bench.papers import forget
from tests.make_planning import make_shoot

BODY: Final = "Northsill-400"
PRINTED_AT: Final = datetime(2027, 10, 12, 9, 12, tzinfo=UTC)


def afresh(sheet: PrintedCallSheet) -> bytes:
    """Print a sheet of whose words none was measured before."""
    forget()
    return print_call_sheet(sheet)


def works() -> dict[str, Work]:
    """Return the sheet as it is printed, and what is on it drawn again."""
    sheet = printed_call_sheet(make_shoot(), version=3, at=PRINTED_AT)
    steps = steps_of(print_call_sheet(sheet))
    return {
        "a call sheet": partial(print_call_sheet, sheet),
        "a call sheet, nothing kept": partial(afresh, sheet),
        "drawn at fixed places": partial(draw_again, steps, SHEET_PAPER.page),
    }


def draw_again(pages: Sequence[Sequence[Step]], size: tuple[float, float]) -> bytes:
    """Draw pages on a bare canvas, step by step."""
    paper = BytesIO()
    canvas = Canvas(paper, size, pageCompression=1, invariant=1, initialFontName=BODY)
    for steps in pages:
        for method, values in steps:
            if method in {"drawPath", "clipPath"}:
                values = (_path(canvas, values[0]), *values[1:])  # noqa: PLW2901
            getattr(canvas, method)(*values)
        canvas.showPage()
    canvas.save()
    return paper.getvalue()


def _path(canvas: Any, parts: Iterable[Step]) -> Any:
    path = canvas.beginPath()
    for method, values in parts:
        getattr(path, method)(*values)
    return path
