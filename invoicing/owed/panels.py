"""What is shown of late payment on an invoice's page."""

from __future__ import annotations

from django.template.loader import render_to_string
from django.utils import timezone
from django.utils.safestring import SafeString

from invoicing.invoices.models import Invoice
from invoicing.owed.charging import charge_of
from invoicing.owed.queries import may_bear_interest, owing_of
from studio.http import StaffRequest
from studio.panels import show_on
from studio.profile.models import StudioProfile


@show_on("invoice", action="invoice.draft")
def late_payment(request: StaffRequest, invoice: Invoice) -> SafeString | str:
    """Say what late payment has come to, and with what it was charged."""
    on = timezone.localdate(timezone=StudioProfile.load().zone)
    if not may_bear_interest(invoice, on=on):
        return ""
    context = {
        "invoice": invoice,
        "owing": owing_of(invoice, on=on),
        "charge": charge_of(invoice),
    }
    if not (context["owing"] or context["charge"]):
        return ""
    return render_to_string("invoicing/owed/_late_panel.html", context, request)
