"""Money that came in or went back, and which invoices it settles."""

from __future__ import annotations

from typing import Final

from django.conf import settings
from django.db import models
from django.db.models import Q

from invoicing.invoices.models import Invoice
from jobs.clients.models import Client
from studio.guards import expect, insert_only
from studio.money import Money


class Method(models.TextChoices):
    """How money moved."""

    TRANSFER = "TRANSFER", "Bank transfer"
    CARD = "CARD", "Card"
    CASH = "CASH", "Cash"
    CHEQUE = "CHEQUE", "Cheque"


class Payment(models.Model):
    """Money received from a client; below zero, money paid back to one."""

    client = models.ForeignKey(Client, models.PROTECT, related_name="payments")
    received_on = models.DateField()
    amount_minor = models.BigIntegerField()
    currency = models.CharField(max_length=3)
    method = models.CharField(max_length=8, choices=Method, default=Method.TRANSFER)
    reference = models.CharField(max_length=140, blank=True)
    recorded_at = models.DateTimeField()
    recorded_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, related_name="+"
    )
    form_key = models.CharField(max_length=64, unique=True)
    """One for each form shown, so that a form sent twice counts once."""

    class Meta:
        ordering = ["-received_on", "-pk"]
        constraints = [
            models.CheckConstraint(
                name="payment_moves_money", condition=~Q(amount_minor=0)
            ),
        ]

    def __str__(self) -> str:
        return f"{self.amount} on {self.received_on}"

    @property
    def amount(self) -> Money:
        """The sum that moved."""
        return Money.from_minor(self.amount_minor, self.currency)


class Allocation(models.Model):
    """The part of a payment that settles one invoice."""

    payment = models.ForeignKey(Payment, models.PROTECT, related_name="allocations")
    invoice = models.ForeignKey(Invoice, models.PROTECT, related_name="allocations")
    amount_minor = models.BigIntegerField()

    class Meta:
        constraints = [
            models.UniqueConstraint(
                name="allocation_once", fields=["payment", "invoice"]
            ),
            models.CheckConstraint(
                name="allocation_is_of_something", condition=~Q(amount_minor=0)
            ),
        ]

    def __str__(self) -> str:
        return f"{self.amount_minor} of payment {self.payment_id} to {self.invoice}"


class PaymentReversal(models.Model):
    """A payment that was written down wrongly and counts no more."""

    payment = models.OneToOneField(Payment, models.PROTECT, related_name="reversal")
    because = models.CharField(max_length=200)
    reversed_at = models.DateTimeField()
    reversed_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, related_name="+"
    )

    def __str__(self) -> str:
        return f"Reversal of payment {self.payment_id}"


WHY: Final = "a payment is never rewritten; a reversal takes it back"
PAYMENT_GUARD: Final = expect(insert_only("invoicing_payment", WHY))
ALLOCATION_GUARD: Final = expect(insert_only("invoicing_allocation", WHY))
