"""One payment as its page and its receipt show it."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from typing import Any

from invoicing.invoices.models import Invoice
from invoicing.payments.models import Allocation, Payment
from invoicing.payments.proposing import OpenSum, proposed
from jobs.clients.models import Client
from studio.money import Money


@dataclass(frozen=True, slots=True, kw_only=True)
class Share:
    """What of a payment is set on one invoice, and what is left of that."""

    invoice: Invoice
    sum: Money
    left: Money


@dataclass(frozen=True, slots=True, kw_only=True)
class SeenPayment:
    """A payment with what it settles, what is loose, and what happened to it."""

    payment: Any
    shares: tuple[Share, ...]
    loose: Money
    moves: tuple[Allocation, ...]
    back: tuple[Payment, ...]
    is_reversed: bool

    @property
    def rounding_off(self) -> Money:
        """What takes the sums that it settles to what came: below zero, it is less."""
        return Money.from_minor(-self.payment.rounding_minor, self.payment.currency)


def seen_payment(payment_id: int) -> SeenPayment:
    """Return one payment. Raises Payment.DoesNotExist."""
    counted = Payment.objects.with_loose()
    related = ("client", "reversal", "voucher", "pays_back", "recorded_by")
    payment: Any = counted.select_related(*related).get(pk=payment_id)
    rows = list(payment.allocations.select_related("invoice").order_by("pk"))
    return SeenPayment(
        payment=payment,
        shares=tuple(_shares(rows, payment.currency)),
        loose=Money.from_minor(payment.loose_minor, payment.currency),
        moves=tuple(row for row in rows if row.moved_on),
        back=tuple(Payment.objects.standing().filter(pays_back=payment)),
        is_reversed=hasattr(payment, "reversal"),
    )


def open_invoices(payment: Payment) -> list[Any]:
    """Return what the payment's client still owes in its currency, oldest due first."""
    family = Client.objects.family_of(payment.client_id)
    unsettled = Invoice.objects.unsettled().select_related("job")
    mine = unsettled.filter(client__in=family, currency=payment.currency)
    return list(mine.order_by("due_on", "pk"))


def proposal(seen: SeenPayment, invoices: list[Any]) -> dict[int, Money]:
    """Return what the loose part of a payment is most likely for."""
    sums = [
        OpenSum(
            pk=one.pk,
            marks=(one.number, one.job.number),
            due_on=one.due_on,
            minor=one.balance_minor,
        )
        for one in invoices
    ]
    payment = seen.payment
    shares = proposed(max(seen.loose.minor, 0), sums, reference=payment.reference)
    return {
        pk: Money.from_minor(minor, payment.currency) for pk, minor in shares.items()
    }


def _shares(rows: list[Allocation], currency: str) -> list[Share]:
    sums: dict[int, int] = defaultdict(int)
    for row in rows:
        sums[row.invoice_id] += row.amount_minor
    found = Invoice.objects.with_balance().filter(pk__in=sums).order_by("due_on", "pk")
    balances: list[Any] = list(found)
    return [
        Share(
            invoice=one,
            sum=Money.from_minor(sums[one.pk], currency),
            left=Money.from_minor(max(one.balance_minor, 0), currency),
        )
        for one in balances
        if sums[one.pk]
    ]
