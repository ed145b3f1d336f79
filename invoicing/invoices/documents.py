"""The printed invoice and credit note."""

from __future__ import annotations

from typing import Final

from reportlab.platypus import Flowable, Spacer

from invoicing.invoices.printed import PrintedInvoice
from studio.pdf.grid import Column
from studio.pdf.heads import LetterHead
from studio.pdf.paper import Imprint, print_pages
from studio.pdf.scene import Drawn
from studio.pdf.styles import LABEL, LETTER, ROW_AMOUNT, ROW_NUMBER, SMALL
from studio.pdf.tables import (
    Boxed,
    item,
    line_table,
    ruled_rows,
    side_by_side,
    sums,
)
from studio.pdf.text import bold, heading, rich, text
from studio.scene.marks import module_code

SHORT_RATE: Final = 6
# 34 mm: modules of 0.5 mm and more, as large as phones read from paper with ease.
SCAN_WIDTH: Final = 96.0


def print_invoice(invoice: PrintedInvoice) -> bytes:
    """Return the paper as a PDF; an equal paper gives equal bytes."""
    head = LetterHead(
        name=invoice.seller_name,
        contact=invoice.seller_lines,
        kind=invoice.kind,
        mark=invoice.number,
    )
    title = f"{invoice.kind} {invoice.number}"
    imprint = Imprint(title=title, author=invoice.seller_name, foot=invoice.foot)
    return print_pages(_story(invoice), imprint=imprint, head=head)


def _story(invoice: PrintedInvoice) -> list[Flowable]:
    buyer: list[str | Flowable] = [
        text("For", LABEL),
        rich(bold(invoice.buyer_lines[0])),
    ]
    buyer += [text(line) for line in invoice.buyer_lines[1:]]
    dates = [
        part
        for label, value in invoice.dates
        for part in (text(label, LABEL), rich(bold(value)))
    ]
    story: list[Flowable] = [
        side_by_side(buyer, list(dates), shares=(3.0, 2.0)),
        Spacer(1, 16),
        text(invoice.subject, LETTER),
        Spacer(1, 10),
        _lines(invoice),
        Spacer(1, 8),
    ]
    story.append(side_by_side(_aside(invoice), sums(invoice.sums, total=invoice.total)))
    if invoice.note:
        story += [Spacer(1, 12), text(invoice.note)]
    return story


def _lines(invoice: PrintedInvoice) -> Flowable:
    columns = [Column(head="What", share=3.4)]
    columns.append(Column(head="Quantity", width=76, style=ROW_NUMBER))
    columns.append(Column(head="Price", width=72, style=ROW_NUMBER))
    if invoice.shows_tax:
        longest = max((len(line.rate) for line in invoice.lines), default=0)
        width = 44 if longest <= SHORT_RATE else 76
        columns.append(Column(head="Rate", width=width, style=ROW_NUMBER))
    columns.append(Column(head="Amount", width=80, style=ROW_AMOUNT))
    rows = [
        [
            item(line.title, line.detail),
            line.quantity,
            line.price,
            *([line.rate] if invoice.shows_tax else []),
            line.amount,
        ]
        for line in invoice.lines
    ]
    return line_table(columns, rows)


def _aside(invoice: PrintedInvoice) -> list[str | Flowable]:
    aside: list[str | Flowable] = []
    if invoice.pay:
        rows = [(label, rich(bold(value))) for label, value in invoice.pay]
        columns = [Column(width=92), Column()]
        aside.append(Boxed([heading("How to pay"), ruled_rows(columns, rows)]))
    if invoice.scan:
        aside += [Spacer(1, 8), _scan(invoice)]
    if invoice.tax_rows:
        aside += [Spacer(1, 8), _breakdown(invoice)]
    if invoice.tax_words:
        aside += [Spacer(1, 6), *(text(words) for words in invoice.tax_words)]
    return aside


def _scan(invoice: PrintedInvoice) -> Flowable:
    words: list[str | Flowable] = [
        rich(bold("Scan to pay")),
        text("The code fills in a SEPA transfer. Compare the name and the sum.", SMALL),
    ]
    code = Drawn(module_code(invoice.scan), SCAN_WIDTH)
    columns = [Column(width=SCAN_WIDTH), Column()]
    return ruled_rows(columns, [([code], words)])


def _breakdown(invoice: PrintedInvoice) -> Flowable:
    columns = [
        Column(head="Rate", style=SMALL),
        Column(head="Taxable", width=76, style=ROW_NUMBER),
        Column(head="Tax", width=64, style=ROW_NUMBER),
    ]
    return line_table(columns, invoice.tax_rows)
