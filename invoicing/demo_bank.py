"""Lines of the demo's account that wait to be explained, and a question about one."""

from __future__ import annotations

from datetime import date, datetime, timedelta
from typing import Final

from invoicing.bank.models import BankLine
from invoicing.bank.operations import ask_about, keep_statement
from invoicing.bank.reading import StatementLine
from invoicing.invoices.models import Invoice
from studio.demo import Scenery
from studio.files.operations import store_file

SENT: Final = b"Date,Name,Reference,Amount\n"
UNKNOWN_MINOR: Final = -3_800


def tell_of_the_bank(scenery: Scenery) -> None:
    """Let the bookkeeper read a statement and ask about a line of it."""
    scenery.then(-1, "17:50", lambda at: _read(scenery, at))
    scenery.then(-1, "17:58", lambda at: _ask(scenery, at))


def _read(scenery: Scenery, at: datetime) -> None:
    day = at.date()
    lines = [
        _line(day - timedelta(days=3), UNKNOWN_MINOR, "HARBOURSIDE 24", "Card 0412"),
        _line(day - timedelta(days=2), -5_340, "Fern and Fallow", "White board"),
    ]
    invoice = Invoice.objects.unsettled().order_by("due_on", "pk").first()
    if invoice:
        said = f"INV {invoice.number}"
        lines.append(_line(day, invoice.gross_minor, invoice.client.name, said))
    file = store_file(
        name="statement.csv", content_type="text/csv", content=SENT, at=at
    )
    keep_statement(
        file=file,
        name=file.name,
        lines=lines,
        currency=scenery.rows["profile"].currency,
        by=scenery.rows["edda"],
        at=at,
    )


def _line(on: date, minor: int, party: str, text: str) -> StatementLine:
    return StatementLine(booked_on=on, amount_minor=minor, party=party, text=text)


def _ask(scenery: Scenery, at: datetime) -> None:
    line = BankLine.objects.get(amount_minor=UNKNOWN_MINOR)
    question = "What is this £38? I find no receipt"
    ask_about(line_id=line.pk, question=question, by=scenery.rows["edda"], at=at)
