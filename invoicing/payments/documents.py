"""The printed receipt."""

from __future__ import annotations

from reportlab.platypus import Flowable, Spacer

from invoicing.payments.printed import PrintedPaymentReceipt
from studio.pdf.grid import Column
from studio.pdf.heads import LetterHead
from studio.pdf.paper import Imprint, print_pages
from studio.pdf.styles import LABEL, ROW_AMOUNT, ROW_NUMBER, SMALL
from studio.pdf.tables import line_table, side_by_side, sums
from studio.pdf.text import bold, rich, text


def print_receipt(receipt: PrintedPaymentReceipt) -> bytes:
    """Return the receipt as a PDF; an equal receipt gives equal bytes."""
    head = LetterHead(
        name=receipt.seller_name,
        contact=receipt.seller_lines,
        kind=receipt.kind,
        mark=receipt.number,
    )
    imprint = Imprint(
        title=f"{receipt.kind}, {receipt.number}",
        author=receipt.seller_name,
        foot=receipt.foot,
    )
    return print_pages(_story(receipt), imprint=imprint, head=head)


def _story(receipt: PrintedPaymentReceipt) -> list[Flowable]:
    payer: list[str | Flowable] = [
        text("From" if receipt.kind == "Receipt" else "To", LABEL),
        rich(bold(receipt.payer_lines[0])),
        *(text(line) for line in receipt.payer_lines[1:]),
    ]
    facts: list[str | Flowable] = []
    for label, value in receipt.facts:
        facts += [text(label, LABEL), rich(bold(value))]
    columns = [
        Column(head="For", share=3.0),
        Column(head="Amount", width=92, style=ROW_AMOUNT),
        Column(head="Left to pay", width=92, style=ROW_NUMBER),
    ]
    return [
        side_by_side(payer, facts, shares=(3.0, 2.0)),
        Spacer(1, 18),
        line_table(columns, receipt.rows),
        Spacer(1, 8),
        side_by_side([], sums((), total=receipt.total)),
        Spacer(1, 14),
        *(text(note, SMALL) for note in receipt.notes),
    ]
