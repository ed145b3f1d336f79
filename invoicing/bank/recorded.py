"""Payments that were written down by hand before the bank's own line was read."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from typing import Final

from django.db import transaction

from invoicing.bank.models import BankLine
from invoicing.payments.models import Method, Payment
from studio.errors import DomainError
from studio.history.operations import record
from studio.people.models import Person

THROUGH_BANK: Final = (Method.TRANSFER, Method.CHEQUE)
BY_LINE: Final = "bank-"
"""How the key of a payment begins that was recorded from its line."""


class RecordedError(DomainError):
    """A line of the bank is not the payment that it is said to be."""


def without_line() -> list[Payment]:
    """Return the payments through the bank that no line of it stands for."""
    waiting = Payment.objects.money().filter(
        method__in=THROUGH_BANK, bank_line__isnull=True
    )
    return list(waiting.select_related("client").order_by("received_on", "pk"))


def recorded_as(line: BankLine, payments: Sequence[Payment]) -> Payment | None:
    """Return the payment of just this sum that lies nearest to the line's day."""
    same = [
        one
        for one in payments
        if (one.amount_minor, one.currency) == (line.amount_minor, line.currency)
    ]
    return min(
        same,
        key=lambda one: (abs((one.received_on - line.booked_on).days), one.pk),
        default=None,
    )


@transaction.atomic
def know_payment(*, line_id: int, by: Person, at: datetime) -> Payment:
    """Say that a line is a payment which was recorded before. Raises RecordedError."""
    line = BankLine.objects.select_for_update().get(pk=line_id)
    payment = recorded_as(line, without_line())
    if not line.is_open or payment is None:
        raise RecordedError("Somebody has said already what this line is.")
    line.payment = payment
    line.save(update_fields=["payment"])
    record(line, "known as recorded", by=by, at=at, data={"payment": payment.pk})
    return payment


def was_by_hand(payment: Payment) -> bool:
    """Say whether a payment was recorded by hand, not from a line."""
    return not payment.form_key.startswith(BY_LINE)
