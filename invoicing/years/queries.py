"""What a year's page says beside its sums."""

from __future__ import annotations

from decimal import Decimal

from django.db.models import Sum

from invoicing.invoices.models import Invoice
from invoicing.periods.calendar import Span
from invoicing.purchases.models import Purchase, PurchaseKind


def driven(span: Span) -> Decimal:
    """Return how far was driven in a year, in the studio's unit of distance."""
    drives = Purchase.objects.standing().filter(
        kind=PurchaseKind.MILEAGE, paid_on__range=(span.first, span.last)
    )
    return Decimal(drives.aggregate(far=Sum("distance_tenths"))["far"] or 0) / 10


def taxed_papers(span: Span) -> int:
    """Return how many papers of a year carry tax from before; whoever files asks."""
    papers = Invoice.objects.filter(tax_point_on__range=(span.first, span.last))
    return papers.exclude(tax_minor=0).count()
