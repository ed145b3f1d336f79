"""What an invoice is for, and how it stands."""

from typing import Final

from django.db import models


class Series(models.TextChoices):
    """The papers that carry a number of the books."""

    INVOICE = "INVOICE", "Invoice"
    CREDIT_NOTE = "CREDIT_NOTE", "Credit note"


class Purpose(models.TextChoices):
    """What a paper is for."""

    DEPOSIT = "DEPOSIT", "Deposit"
    STAGE = "STAGE", "Stage"
    BALANCE = "BALANCE", "Balance"
    WHOLE = "WHOLE", "Whole sum"
    CREDIT = "CREDIT", "Credit"
    CHARGE = "CHARGE", "Late payment"


AHEAD: Final = (Purpose.DEPOSIT, Purpose.STAGE)
"""What the invoice for the rest of an order takes off again."""
FINAL: Final = (Purpose.BALANCE, Purpose.WHOLE)


class Standing(models.TextChoices):
    """How an issued invoice stands on a day; worked out, never stored."""

    LATE = "late", "Late"
    OPEN = "open", "Not yet due"
    PART_PAID = "part", "Part paid"
    PAID = "paid", "Paid"
    CREDITED = "credit", "Credited"
    LOST = "lost", "Written off"
