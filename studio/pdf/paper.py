"""The stationery: page size, margins, head and foot; a story becomes a document."""

from collections.abc import Callable, Sequence
from copy import copy
from dataclasses import dataclass
from functools import partial
from io import BytesIO
from typing import Any, Final, Literal

from reportlab import rl_config
from reportlab.lib.pagesizes import A4, A5, LETTER, landscape
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import (
    BaseDocTemplate,
    Flowable,
    Frame,
    PageTemplate,
    Spacer,
)

from studio.pdf.faces import chain
from studio.pdf.fonts import fitted
from studio.pdf.heads import MM, Area, Head, draw_foot
from studio.pdf.text import LONGEST
from studio.scene.words import one_line

rl_config.useA85 = 0  # text armour makes every stream a quarter larger

PaperSize = Literal["A4", "letter", "A5-wide"]
_SIZES: Final = {"A4": A4, "letter": LETTER, "A5-wide": landscape(A5)}


@dataclass(frozen=True, slots=True, kw_only=True)
class Stationery:
    """A sheet before anything is printed on it: its size and margins in points."""

    size: PaperSize = "A4"
    left: float = 22.0 * MM
    right: float = 20.0 * MM
    bottom: float = 19.0 * MM
    foot: float = 13.0 * MM
    lang: str = "en-GB"

    @property
    def width(self) -> float:
        """Return the width between the margins, in points."""
        return float(_SIZES[self.size][0]) - self.left - self.right

    @property
    def page(self) -> tuple[float, float]:
        """Return the width and height of the whole page, in points."""
        wide, high = _SIZES[self.size]
        return float(wide), float(high)


LETTER_PAPER: Final = Stationery()
CARD_PAPER: Final = Stationery(
    size="A5-wide", left=18.0 * MM, right=18.0 * MM, bottom=15.0 * MM, foot=9.0 * MM
)
SHEET_PAPER: Final = Stationery(
    left=13.0 * MM, right=13.0 * MM, bottom=12.0 * MM, foot=8.2 * MM
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Imprint:
    """What a document says of itself: to readers of files, and in its foot.

    `foot_right` may say {page} and {pages}, as in "Page {page} of {pages}".
    """

    title: str
    author: str
    subject: str = ""
    foot: str = ""
    foot_right: str = "Page {page} of {pages}"


def print_pages(
    story: Sequence[Flowable],
    *,
    imprint: Imprint,
    head: Head,
    stationery: Stationery = LETTER_PAPER,
) -> bytes:
    """Print a story on stationery as a PDF; equal input gives equal bytes.

    A story is used up by printing: build it anew for another copy.
    """
    paper = BytesIO()
    document = BaseDocTemplate(
        paper,
        pagesize=stationery.page,
        title=_line(imprint.title),
        author=_line(imprint.author),
        subject=_line(imprint.subject),
        creator="Northsill",
        lang=stationery.lang,
        displayDocTitle=1,
        invariant=1,
        pageCompression=1,
        initialFontName=chain(400)[0].fontName,
    )
    document.addPageTemplates(
        [
            _template(stationery, "first", head.height(1)),
            _template(stationery, "later", head.height(2)),
        ]
    )
    finish = partial(_finish_page, stationery, imprint, head)
    document.build(list(story) or [Spacer(1, 1)], canvasmaker=partial(_Counted, finish))
    return paper.getvalue()


def _template(stationery: Stationery, name: str, head_height: float) -> PageTemplate:
    _, high = stationery.page
    frame = _Column(
        stationery.left,
        stationery.bottom,
        stationery.width,
        high - stationery.bottom - head_height,
        leftPadding=0,
        rightPadding=0,
        topPadding=0,
        bottomPadding=0,
    )
    return PageTemplate(name, [frame], autoNextPageTemplate="later")


class _Column(Frame):
    """A frame of plain values: where one is wanted to try things in, a copy does."""

    def __deepcopy__(self, _memo: dict[int, Any]) -> "_Column":
        return copy(self)


def _finish_page(
    stationery: Stationery, imprint: Imprint, head: Head, canvas: Any, pages: int
) -> None:
    wide, high = stationery.page
    page = canvas.getPageNumber()
    left, right = stationery.left, wide - stationery.right
    head.draw(canvas, Area(left, right, high), page, pages)
    beside = imprint.foot_right.replace("{page}", str(page))
    beside = beside.replace("{pages}", str(pages))
    draw_foot(canvas, Area(left, right, stationery.foot), imprint.foot, beside)


def _line(words: str) -> str:
    return fitted(one_line(words[:LONGEST]))


class _Counted(Canvas):
    """A canvas that finishes its pages at the end, when their number is known."""

    def __init__(
        self, finish: Callable[[Any, int], None], *arguments: Any, **options: Any
    ) -> None:
        super().__init__(*arguments, **options)
        self._finish = finish
        self._waiting: list[dict[str, Any]] = []

    def showPage(self) -> None:  # noqa: N802  (reportlab's name)
        """Lay the page aside and start the next."""
        self._waiting.append(dict(self.__dict__))
        self._startPage()

    def save(self) -> None:
        """Finish every page, then write the document."""
        for state in self._waiting:
            self.__dict__.update(state)
            self._finish(self, len(self._waiting))
            super().showPage()
        super().save()
