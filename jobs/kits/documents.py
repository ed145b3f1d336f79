"""The list of kit for insurance, on paper."""

from __future__ import annotations

from reportlab.platypus import Spacer

from jobs.kits.insured import InsuredList, InsuredRow
from studio.pdf.grid import Column
from studio.pdf.heads import SheetHead
from studio.pdf.paper import SHEET_PAPER, Imprint, print_pages
from studio.pdf.stack import Cell
from studio.pdf.styles import ROW, right
from studio.pdf.tables import item, line_table, sums
from studio.wording import day_year, long_date, money_words


def print_insured(found: InsuredList) -> bytes:
    """Print the list as a PDF; an equal list gives equal bytes."""
    title, day = "Equipment and its value", long_date(found.on)
    head = SheetHead(over=found.studio, title=title, beside=day)
    foot = f"{found.studio}, {day}"
    imprint = Imprint(title=title, author=found.studio, subject=day, foot=foot)
    columns = [
        Column(head="Item", share=2.4, style=ROW),
        Column(head="Serial number", share=1.2, style=ROW),
        Column(head="Bought", width=62.0, style=ROW),
        Column(head="Kept", share=1.2, style=ROW),
        Column(head="Value", width=78.0, style=right(ROW)),
    ]
    table = line_table(columns, [_cells(row) for row in found.rows])
    totals = [
        (f"Total in {total.currency}", money_words(total)) for total in found.totals
    ]
    unvalued = sum(row.value is None for row in found.rows)
    count = ("Items without a value", str(unvalued))
    listed = ("Items listed", str(len(found.rows)))
    counted = [count, *totals] if unvalued else totals
    story = [table, Spacer(1, 14), sums(counted, total=listed, width=280.0)]
    return print_pages(story, imprint=imprint, head=head, stationery=SHEET_PAPER)


def _cells(row: InsuredRow) -> tuple[Cell, ...]:
    bought = row.bought_on
    return (
        item(row.name, row.category),
        row.serial,
        day_year(bought) if bought else "",
        ", ".join(filter(None, [row.shelf, row.bag])),
        money_words(row.value) if row.value else "not known",
    )
