"""What is still open before a period can be called complete."""

from __future__ import annotations

from dataclasses import dataclass

from django.urls import reverse

from invoicing.invoices.models import InvoiceDraft
from invoicing.payments.models import Payment
from invoicing.periods.calendar import Span
from invoicing.purchases.models import Purchase


@dataclass(frozen=True, slots=True)
class OpenEnd:
    """One thing to look at before closing, and where."""

    words: str
    url: str


def open_ends(span: Span) -> list[OpenEnd]:
    """Return what a careful bookkeeper would still ask about a period."""
    days = (span.first, span.last)
    found: list[OpenEnd] = []
    lacking = Purchase.objects.without_receipt().filter(bought_on__range=days).count()
    if lacking:
        found.append(
            OpenEnd(
                f"{_so_many(lacking, 'purchase')} without a receipt",
                reverse("invoicing:purchases") + "?show=no-receipt",
            )
        )
    unpaid = Purchase.objects.standing().filter(
        bought_on__range=days, paid_on__isnull=True
    )
    if count := unpaid.count():
        found.append(
            OpenEnd(
                f"{_so_many(count, 'purchase')} not yet paid",
                reverse("invoicing:purchases"),
            )
        )
    drafts = InvoiceDraft.objects.filter(
        dropped_at__isnull=True, invoice__isnull=True, written_at__date__lte=span.last
    )
    if count := drafts.count():
        found.append(
            OpenEnd(
                f"{_so_many(count, 'invoice')} written but not issued",
                reverse("invoicing:money"),
            )
        )
    loose = Payment.objects.standing().loose().filter(received_on__range=days)
    if count := loose.count():
        found.append(
            OpenEnd(
                f"{_so_many(count, 'payment')} not wholly set against an invoice",
                reverse("invoicing:payments") + "?show=loose",
            )
        )
    return found


def _so_many(count: int, thing: str) -> str:
    return f"{count} {thing}{'s' if count != 1 else ''}"
