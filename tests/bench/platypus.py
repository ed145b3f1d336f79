"""The same invoices by reportlab's own means, as a careful user of it writes them.

A paragraph in every cell, since words may be long; styles made once; sums and how to
pay kept together; fonts registered once; the settings that reportlab comes with.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from functools import cache
from io import BytesIO
from typing import Any, Final
from xml.sax.saxutils import escape

from reportlab import rl_config
from reportlab.lib.colors import Color, HexColor
from reportlab.lib.enums import TA_RIGHT
from reportlab.lib.pagesizes import A4
from reportlab.lib.styles import ParagraphStyle
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.platypus import (
    Flowable,
    KeepTogether,
    PageBreak,
    Paragraph,
    SimpleDocTemplate,
    Spacer,
    Table,
    TableStyle,
)

from invoicing.invoices.printed import PrintedInvoice
from studio.pdf.faces import chain
from studio.pdf.heads import MM
from studio.pdf.paper import LETTER_PAPER
from studio.scene.drawing import Weight
from studio.scene.tokens import hex_of

_WIDE: Final = LETTER_PAPER.width
_INK: Final[Color] = HexColor(hex_of("ink"))
_LIGHT: Final[Color] = HexColor(hex_of("g300"))
_BARE: Final = [
    ("LEFTPADDING", (0, 0), (-1, -1), 0),
    ("RIGHTPADDING", (0, 0), (-1, -1), 0),
    ("TOPPADDING", (0, 0), (-1, -1), 1.5),
    ("BOTTOMPADDING", (0, 0), (-1, -1), 1.5),
    ("VALIGN", (0, 0), (-1, -1), "TOP"),
]
_BESIDE: Final = TableStyle(_BARE)
_LINES: Final = TableStyle(
    [
        *_BARE,
        ("LINEBELOW", (0, 0), (-1, 0), 1.2, _INK),
        ("LINEBELOW", (0, 1), (-1, -2), 0.5, _LIGHT),
        ("LINEBELOW", (0, -1), (-1, -1), 1.2, _INK),
    ]
)
_SUMS: Final = TableStyle([*_BARE, ("LINEABOVE", (0, -1), (-1, -1), 0.8, _INK)])
_BOX: Final = TableStyle(
    [
        *_BARE,
        ("BOX", (0, 0), (-1, -1), 1.4, _INK),
        ("LEFTPADDING", (0, 0), (-1, -1), 9),
        ("RIGHTPADDING", (0, 0), (-1, -1), 9),
    ]
)


@cache
def _font(weight: Weight) -> str:
    """Register the file that the studio's paper uses, as reportlab's own font."""
    name = f"Plain-{weight}"
    pdfmetrics.registerFont(TTFont(name, chain(weight)[0].face.filename))
    return name


@cache
def _style(
    weight: Weight = 400, size: float = 10.5, *, end: bool = False, grey: bool = False
) -> ParagraphStyle:
    return ParagraphStyle(
        f"{weight} {size} {end} {grey}",
        fontName=_font(weight),
        fontSize=size,
        leading=round(size * 1.28, 1),
        alignment=TA_RIGHT if end else 0,
        textColor=HexColor(hex_of("g700" if grey else "ink")),
    )


def _say(words: str, weight: Weight = 400, size: float = 10.5, **look: bool) -> Any:
    return Paragraph(escape(words), _style(weight, size, **look))


@contextmanager
def usual_settings() -> Iterator[None]:
    """Let reportlab armour its streams as text, as it does unless told otherwise."""
    rl_config.useA85 = 1
    try:
        yield
    finally:
        rl_config.useA85 = 0


def print_plainly(invoices: Sequence[PrintedInvoice]) -> bytes:
    """Return the invoices as one PDF, each on a page of its own."""
    paper = BytesIO()
    document = SimpleDocTemplate(
        paper,
        pagesize=A4,
        leftMargin=LETTER_PAPER.left - 6,  # a frame pads its inside by 6
        rightMargin=LETTER_PAPER.right - 6,
        topMargin=15.0 * MM,
        bottomMargin=LETTER_PAPER.bottom,
        title=f"{invoices[0].kind} {invoices[0].number}",
        author=invoices[0].seller_name,
        lang="en-GB",
        initialFontName=_font(400),
        invariant=1,
    )

    def foot(canvas: Any, _document: Any) -> None:
        canvas.setFont(_font(400), 8)
        canvas.setFillColor(HexColor(hex_of("g700")))
        invoice = invoices[canvas.getPageNumber() - 1]
        canvas.drawString(LETTER_PAPER.left, LETTER_PAPER.foot, invoice.foot)
        right = A4[0] - LETTER_PAPER.right
        canvas.drawRightString(right, LETTER_PAPER.foot, "Page 1 of 1")

    story: list[Flowable] = []
    for invoice in invoices:
        story += [*_story(invoice), PageBreak()]
    with usual_settings():
        document.build(story[:-1], onFirstPage=foot, onLaterPages=foot)
    return paper.getvalue()


def _story(invoice: PrintedInvoice) -> list[Flowable]:
    buyer = [_say("For", 400, 9, grey=True), _say(invoice.buyer_lines[0], 700)]
    buyer += [_say(line) for line in invoice.buyer_lines[1:]]
    dates = [
        part
        for label, value in invoice.dates
        for part in (_say(label, 400, 9, grey=True), _say(value, 700))
    ]
    end: list[Any] = [_sums_and_payment(invoice)]
    if invoice.note:
        end += [Spacer(1, 12), _say(invoice.note)]
    return [
        _head(invoice),
        Spacer(1, 30),
        Table([[buyer, dates]], [_WIDE * 0.6, _WIDE * 0.4], style=_BESIDE),
        Spacer(1, 16),
        _say(invoice.subject, 400, 11.5),
        Spacer(1, 10),
        _lines(invoice),
        Spacer(1, 8),
        KeepTogether(end),
    ]


def _head(invoice: PrintedInvoice) -> Flowable:
    seller = [_say(invoice.seller_name, 700, 15)]
    seller += [_say(line, grey=True) for line in invoice.seller_lines]
    named = [
        _say(invoice.kind, 700, 26, end=True),
        _say(invoice.number, end=True, grey=True),
    ]
    return Table([[seller, named]], [_WIDE / 2, _WIDE / 2], style=_BESIDE)


def _lines(invoice: PrintedInvoice) -> Flowable:
    heads = ("What", "Quantity", "Price", "Rate", "Amount")
    rows: list[list[Any]] = [
        [_say(h, 600, 9, end=h != "What", grey=True) for h in heads]
    ]
    for line in invoice.lines:
        what = [_say(line.title, 700)]
        if line.detail:
            what.append(_say(line.detail, 400, 9, grey=True))
        numbers = [_say(x, end=True) for x in (line.quantity, line.price, line.rate)]
        rows.append([what, *numbers, _say(line.amount, 600, end=True)])
    widths = [_WIDE - 272, 76, 72, 44, 80]
    return Table(rows, widths, style=_LINES, repeatRows=1)


def _sums_and_payment(invoice: PrintedInvoice) -> Flowable:
    pay = [[_say(label), _say(value, 700)] for label, value in invoice.pay]
    inside = Table(pay, [92, _WIDE / 2 - 130], style=_BESIDE)
    boxed = [[_say("How to pay", 700, 12.5)], [inside]]
    taxes = [[_say(h, 600, 9, grey=True) for h in ("Rate", "Taxable", "Tax")]]
    taxes += [[_say(x, end=n > 0) for n, x in enumerate(r)] for r in invoice.tax_rows]
    left = [
        Table(boxed, [_WIDE / 2 - 20], style=_BOX),
        Spacer(1, 8),
        Table(taxes, [_WIDE / 2 - 170, 80, 70], style=_LINES),
        *(_say(words) for words in invoice.tax_words),
    ]
    sums = [
        [_say(name, 400, 11.5), _say(x, 400, 11.5, end=True)]
        for name, x in invoice.sums
    ]
    name, total = invoice.total
    sums.append([_say(name, 700, 14), _say(total, 700, 16, end=True)])
    right = Table(sums, [_WIDE / 4, _WIDE / 4], style=_SUMS)
    return Table([[left, right]], [_WIDE / 2, _WIDE / 2], style=_BESIDE)
