"""Invoices printed as the studio prints them, and by plain means."""

from collections.abc import Sequence
from functools import partial

from invoicing.invoices.documents import print_invoice
from invoicing.invoices.printed import PrintedInvoice
from invoicing.lists.documents import bound_together
from tests.bench.pairwise import Work
from tests.bench.papers import forget, papers
from tests.bench.platypus import print_plainly


def as_files(invoices: Sequence[PrintedInvoice]) -> list[bytes]:
    """Print each invoice as the studio keeps it, in a batch of its own."""
    forget()
    return [print_invoice(invoice) for invoice in invoices]


def as_one(invoices: Sequence[PrintedInvoice]) -> bytes:
    """Print the invoices and bind them, as the list of invoices does."""
    return bound_together(as_files(invoices))


def plainly_as_files(invoices: Sequence[PrintedInvoice]) -> list[bytes]:
    return [print_plainly([invoice]) for invoice in invoices]


def works(count: int) -> dict[str, Work]:
    """Return the ways to print so many invoices."""
    invoices = papers(count)
    return {
        "one PDF, plainly": partial(print_plainly, invoices),
        "one PDF": partial(as_one, invoices),
        "one PDF of kept papers": partial(bound_together, as_files(invoices)),
        "files, plainly": partial(plainly_as_files, invoices),
        "files": partial(as_files, invoices),
    }
