"""What is still open before a period can be called complete."""

from __future__ import annotations

from dataclasses import dataclass

from django.urls import reverse

from invoicing.bank.models import BankLine
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
    lines = BankLine.objects.open().filter(booked_on__range=days)
    bought = Purchase.objects.filter(bought_on__range=days)
    drafts = InvoiceDraft.objects.filter(
        dropped_at__isnull=True, invoice__isnull=True, written_at__date__lte=span.last
    )
    loose = Payment.objects.standing().loose().filter(received_on__range=days)
    bank, money = reverse("invoicing:bank"), reverse("invoicing:money")
    purchases = reverse("invoicing:purchases")
    payments = reverse("invoicing:payments")
    asked = (
        (lines, "line", "of the bank to explain", bank),
        (
            bought.without_receipt(),
            "purchase",
            "without a receipt",
            f"{purchases}?show=no-receipt",
        ),
        (bought.standing().filter(paid_on=None), "purchase", "not yet paid", purchases),
        (drafts, "invoice", "written but not issued", money),
        (
            loose,
            "payment",
            "not wholly set against an invoice",
            f"{payments}?show=loose",
        ),
    )
    counted = ((rows.count(), thing, rest, url) for rows, thing, rest, url in asked)
    return [
        OpenEnd(f"{_so_many(count, thing)} {rest}", url)
        for count, thing, rest, url in counted
        if count
    ]


def _so_many(count: int, thing: str) -> str:
    return f"{count} {thing}{'s' if count != 1 else ''}"
