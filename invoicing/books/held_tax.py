"""Tax of sales by receipt: held apart from the day of the sale until it is due."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from datetime import date

from invoicing.books.accounts import Account
from invoicing.books.bases import Bases
from invoicing.books.by_receipt import Step, receipt_steps
from invoicing.books.facts import Facts
from invoicing.books.postings import Entry, Posting, signed


def tax_on_sales(*, is_held: bool) -> Account:
    """Return the account that a paper's tax is posted to on its own day."""
    return Account.OUTPUT_HELD if is_held else Account.OUTPUT_TAX


def came_due(facts: Facts, bases: Bases) -> Iterator[Entry]:
    """Yield an entry for each paper and day on which some of its held tax came due.

    The tax of a debt that was written off never does: the loss is less by it.
    """
    by_day: dict[tuple[int, date], list[Step]] = defaultdict(list)
    for step in receipt_steps(facts, bases):
        by_day[step.paper.pk, step.on].append(step)
    for (pk, on), steps in by_day.items():
        paper = steps[0].paper
        yield Entry(
            key=f"D{pk}-{on:%Y%m%d}",
            on=on,
            document_type="tax due",
            document_number=paper.number,
            party=paper.party,
            postings=signed((one for step in steps for one in _postings(step)), 1),
        )


def _postings(step: Step) -> Iterator[Posting]:
    for rows, account in (
        (step.due, Account.OUTPUT_TAX),
        (step.lost, Account.LOSSES),
    ):
        for row in rows:
            code = row.code
            yield Posting(
                account=Account.OUTPUT_HELD, minor=row.tax_minor, tax_code=code
            )
            yield Posting(account=account, minor=-row.tax_minor, tax_code=code)
