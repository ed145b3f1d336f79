"""What of each payment settles no invoice, kept by the database as what is open is."""

from __future__ import annotations

from typing import Final

from django.db import models
from django.db.models import Q

from invoicing.invoices.balances import OPEN, Kept, takes_off
from invoicing.payments.models import Method, Payment
from studio.guards import expect, on_insert

LOOSE: Final = Kept("invoicing_paymentbalance", "loose_minor")


class PaymentBalance(models.Model):
    """What of one payment settles no invoice: None where all of it does.

    Money that went back stands below zero here, beside the money that it came from.
    `last_on` says of it what it says of an invoice's balance.
    """

    payment = models.OneToOneField(
        Payment, models.CASCADE, primary_key=True, related_name="balance"
    )
    currency = models.CharField(max_length=3)
    loose_minor = models.BigIntegerField(null=True)
    last_on = models.DateField()

    class Meta:
        indexes = [
            models.Index(
                name="balance_loose",
                fields=["currency", "loose_minor"],
                condition=Q(loose_minor__isnull=False),
            ),
            models.Index(name="balance_moved", fields=["last_on"]),
        ]

    def __str__(self) -> str:
        return f"{self.loose_minor or 0} loose of payment {self.payment_id}"


PAYMENT_BALANCE: Final = expect(
    on_insert(
        "invoicing_payment",
        name="invoicing_payment_balance",
        steps=(
            "INSERT INTO invoicing_paymentbalance "
            "(payment_id, currency, loose_minor, last_on) "
            "SELECT NEW.id, NEW.currency, CASE "
            f"WHEN NEW.voucher_id IS NULL OR NEW.method = '{Method.VOUCHER.value}' "
            "THEN NULLIF(NEW.amount_minor + NEW.rounding_minor, 0) END, "
            "NEW.received_on",
        ),
    )
)
_DAY: Final = (
    "COALESCE(NEW.moved_on, "
    "(SELECT received_on FROM invoicing_payment WHERE id = NEW.payment_id))"
)
_STANDS: Final = (
    "NOT EXISTS (SELECT 1 FROM invoicing_paymentreversal gone "
    "WHERE gone.payment_id = NEW.payment_id)"
)
ALLOCATION_BALANCE: Final = expect(
    on_insert(
        "invoicing_allocation",
        name="invoicing_allocation_balance",
        steps=(
            takes_off(
                OPEN,
                "NEW.amount_minor",
                on=_DAY,
                where=f"invoice_id = NEW.invoice_id AND {_STANDS}",
            ),
            takes_off(
                LOOSE,
                "NEW.amount_minor",
                on=_DAY,
                where=f"payment_id = NEW.payment_id AND {_STANDS}",
            ),
        ),
    )
)


def _take_back(on: str) -> tuple[str, str]:
    """Return the steps that give back what a payment had settled, on a day in SQL."""
    parts = "FROM invoicing_allocation part WHERE part.payment_id = NEW.payment_id"
    of_each = f"part.invoice_id = {OPEN.table}.invoice_id"
    return (
        takes_off(
            OPEN,
            f"SELECT -SUM(part.amount_minor) {parts} AND {of_each}",
            on=on,
            where=f"invoice_id IN (SELECT part.invoice_id {parts})",
        ),
        takes_off(LOOSE, LOOSE.column, on=on, where="payment_id = NEW.payment_id"),
    )


# The day after it, in UTC: no place on Earth has a later day at that moment.
REVERSAL_BALANCE: Final = expect(
    on_insert(
        "invoicing_paymentreversal",
        name="invoicing_reversal_balance",
        steps=_take_back("date(NEW.reversed_at, '+1 day')"),
        on_postgres=_take_back("((NEW.reversed_at AT TIME ZONE 'UTC')::date + 1)"),
    )
)
