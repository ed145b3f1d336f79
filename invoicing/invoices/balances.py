"""What is open on each invoice, kept by the database with every row that moves it.

All rows that a balance is made of are only ever added, so triggers keep it exact:
no code path can forget it, and what is open is read without summing years of papers.
`verify` sums again and compares.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from django.db import models
from django.db.models import Q

from invoicing.invoices.models import Invoice
from invoicing.invoices.states import Series
from studio.guards import expect, on_insert


@dataclass(frozen=True, slots=True)
class Kept:
    """Where a balance is kept."""

    table: str
    column: str


OPEN: Final = Kept("invoicing_invoicebalance", "open_minor")


class InvoiceBalance(models.Model):
    """What is open on one invoice, whatever the day: None where nothing is.

    `last_on` is the latest day that anything moved it, and may be a day later: on that
    day and after, what was open is what is open now.
    """

    invoice = models.OneToOneField(
        Invoice, models.CASCADE, primary_key=True, related_name="balance"
    )
    currency = models.CharField(max_length=3)
    due_on = models.DateField()
    open_minor = models.BigIntegerField(null=True)
    last_on = models.DateField()

    class Meta:
        indexes = [
            models.Index(
                name="balance_open",
                fields=["currency", "due_on", "open_minor"],
                condition=Q(open_minor__isnull=False),
            ),
            models.Index(name="balance_last", fields=["last_on"]),
        ]

    def __str__(self) -> str:
        return f"{self.open_minor or 0} open on invoice {self.invoice_id}"


def takes_off(kept: Kept, minor: str, *, on: str, where: str) -> str:
    """Return the statement that takes a sum off balances on a day, all in SQL."""
    return (
        f"UPDATE {kept.table} SET "  # noqa: S608 - names and sums of this code alone
        f"{kept.column} = NULLIF(COALESCE({kept.column}, 0) - ({minor}), 0), "
        f"last_on = CASE WHEN last_on < {on} THEN {on} ELSE last_on END "
        f"WHERE {where}"
    )


INVOICE_BALANCE: Final = expect(
    on_insert(
        "invoicing_invoice",
        name="invoicing_invoice_balance",
        steps=(
            "INSERT INTO invoicing_invoicebalance "
            "(invoice_id, currency, due_on, open_minor, last_on) "
            "SELECT NEW.id, NEW.currency, NEW.due_on, NULLIF(NEW.gross_minor, 0), "
            f"NEW.tax_point_on WHERE NEW.series = '{Series.INVOICE.value}'",
            takes_off(
                OPEN,
                "NEW.gross_minor",
                on="NEW.tax_point_on",
                where="invoice_id = NEW.corrects_id",
            ),
        ),
    )
)
