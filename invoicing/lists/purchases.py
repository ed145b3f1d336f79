"""The table of purchases."""

from __future__ import annotations

import hashlib
from typing import Any, Final

from django.db.models import Q, QuerySet
from django.utils.html import format_html

from invoicing.lists.columns import Column, Look
from invoicing.lists.listing import Listing, Narrowed, between
from invoicing.purchases.models import Purchase
from studio.templatetags.northsill import mark

_STAMPED: Final = (
    *("kind", "supplier", "what", "bought_on", "paid_on", "paid_from", "gross_minor"),
    *("tax_minor", "private_percent", "receipt_id"),
    *("no_receipt_because", "dropped_at"),
)


def rows(data: Narrowed, look: Look) -> QuerySet[Any]:
    """Return the purchases that were asked for."""
    found = Purchase.objects.standing().select_related("job")
    if data["show"] == "no-receipt":
        found = found.without_receipt()
    elif data["show"] == "unpaid":
        found = found.filter(paid_on__isnull=True)
    if data.get("kind"):
        found = found.filter(kind=data["kind"])
    if data.get("first"):
        found = found.filter(bought_on__gte=data["first"])
    if data.get("last"):
        found = found.filter(bought_on__lte=data["last"])
    if words := data.get("words"):
        found = found.filter(
            Q(supplier__icontains=words)
            | Q(what__icontains=words)
            | Q(job__number__icontains=words)
            | Q(job__title__icontains=words)
        )
    return between(found, "gross_minor", data.get("least"), data.get("most"))


def stamp_of(purchase: Any) -> str:
    """Return a short mark of how a purchase stands; any change gives another."""
    written = "\n".join(str(getattr(purchase, name)) for name in _STAMPED)
    return hashlib.sha256(written.encode()).hexdigest()[:16]


def _what(purchase: Any, look: Look) -> str:
    return format_html(
        '<a href="{}">{}</a> <span class="small quiet apart">{}</span>',
        purchase.get_absolute_url(),
        purchase.supplier,
        purchase.what,
    )


def _receipt(purchase: Any, look: Look) -> str:
    words = _receipt_cell(purchase)
    if words == "Missing":
        return mark("part", words)
    return mark("done", words) if words == "Kept" else words


def _receipt_cell(purchase: Any) -> str:
    if purchase.receipt_id:
        return "Kept"
    return "Missing" if purchase.lacks_receipt else "Not needed"


PURCHASES: Final = Listing(
    slug="purchases",
    name="Purchases",
    action="purchase.see",
    rows=rows,
    first_order=("-bought_on",),
    first_sort="-on",
    stamp=stamp_of,
    columns=(
        Column(
            key="on",
            name="On",
            value=lambda purchase: purchase.bought_on,
            order="bought_on",
            css="phone-d",
        ),
        Column(
            key="supplier",
            name="From and what",
            value=lambda purchase: purchase.supplier,
            shown=_what,
            order="supplier",
            css="phone-a",
            is_head=True,
        ),
        Column(
            key="what",
            name="What",
            value=lambda purchase: purchase.what,
            on_page=False,
        ),
        Column(
            key="kind",
            name="Kind",
            value=lambda purchase: purchase.get_kind_display(),
            order="kind",
            css="phone-off",
        ),
        Column(
            key="job",
            name="Job",
            value=lambda purchase: purchase.job.number if purchase.job else "",
            order="job__number",
            css="phone-off",
        ),
        Column(
            key="paid_on",
            name="Paid",
            value=lambda purchase: purchase.paid_on,
            on_page=False,
        ),
        Column(
            key="paid_from",
            name="Paid from",
            value=lambda purchase: purchase.get_paid_from_display(),
            on_page=False,
        ),
        Column(
            key="private",
            name="Private share, %",
            value=lambda purchase: purchase.private_percent,
            on_page=False,
        ),
        Column(
            key="total",
            name="Paid in all",
            minor="gross_minor",
            order="gross_minor",
            adds="gross_minor",
            css="number strong phone-b",
        ),
        Column(
            key="tax",
            name="Tax in it",
            minor="tax_minor",
            order="tax_minor",
            adds="tax_minor",
            css="number phone-off",
            is_taxed=True,
        ),
        Column(
            key="receipt",
            name="Receipt",
            value=_receipt_cell,
            shown=_receipt,
            css="apart-left phone-c",
        ),
    ),
)
