"""The printed statement of a client's account."""

from __future__ import annotations

from reportlab.platypus import Flowable, Spacer

from invoicing.owed.statements import PrintedPart, PrintedStatement
from studio.pdf.grid import Column
from studio.pdf.heads import LetterHead
from studio.pdf.paper import Imprint, print_pages
from studio.pdf.styles import LABEL, ROW_AMOUNT, ROW_NUMBER, SMALL
from studio.pdf.tables import line_table, ruled_rows, side_by_side, sums
from studio.pdf.text import bold, heading, rich, text


def print_statement(statement: PrintedStatement) -> bytes:
    """Return the statement as a PDF; an equal statement gives equal bytes."""
    head = LetterHead(
        name=statement.seller_name,
        contact=statement.seller_lines,
        kind="Statement",
        mark=statement.span,
    )
    imprint = Imprint(
        title=f"Statement, {statement.span}",
        author=statement.seller_name,
        foot=statement.foot,
    )
    return print_pages(_story(statement), imprint=imprint, head=head)


def _story(statement: PrintedStatement) -> list[Flowable]:
    client: list[str | Flowable] = [
        text("Account of", LABEL),
        rich(bold(statement.client_lines[0])),
        *(text(line) for line in statement.client_lines[1:]),
    ]
    story = [side_by_side(client), Spacer(1, 16)]
    for part in statement.parts:
        story += [*_account(part), Spacer(1, 12)]
    said = "A statement is no invoice; it repeats what was sent before."
    return [*story, text(said, SMALL)]


def _account(part: PrintedPart) -> list[Flowable]:
    columns = [
        Column(head="Date", width=80),
        Column(head="What", share=1.0),
        Column(head="Sum", width=76, style=ROW_NUMBER),
        Column(head="Balance", width=76, style=ROW_AMOUNT),
    ]
    named: list[Flowable] = [heading(part.name)] if part.name else []
    return [
        *named,
        line_table(columns, part.rows),
        Spacer(1, 10),
        side_by_side(_aged(part), sums((), total=part.total)),
    ]


def _aged(part: PrintedPart) -> list[str | Flowable]:
    if not part.ages:
        return []
    columns = [Column(), Column(width=80, style=ROW_NUMBER)]
    return [
        heading("What is open, by days past due"),
        ruled_rows(columns, part.ages),
    ]
