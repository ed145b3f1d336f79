"""What late payment of an invoice has come to, and drafting an invoice for it."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from invoicing.invoices.models import Invoice
from invoicing.owed.charging import charge_of, draft_charge
from invoicing.owed.queries import may_bear_interest, owing_of
from studio.errors import DomainError
from studio.http import staff
from studio.people.access import may
from studio.profile.models import StudioProfile


@may("invoice.draft")
@require_http_methods(["GET", "POST"])
def late_charge(request: HttpRequest, invoice_id: int) -> HttpResponse:
    """Show interest and fixed sum with the working; draft an invoice for them."""
    invoices = Invoice.objects.invoices().select_related("client", "job")
    invoice = get_object_or_404(invoices, pk=invoice_id)
    at = timezone.now()
    on = at.astimezone(StudioProfile.load().zone).date()
    if not may_bear_interest(invoice, on=on):
        messages.info(request, "Interest is worked out for late debts of firms alone.")
        return redirect(invoice)
    if request.method == "POST":
        try:
            draft = draft_charge(
                invoice_id=invoice.pk, on=on, by=staff(request).user, at=at
            )
        except DomainError as refusal:
            messages.error(request, str(refusal))
        else:
            messages.success(request, "Read it, then issue it. Nothing has gone yet.")
            return redirect(draft)
    context = {
        "invoice": invoice,
        "owing": owing_of(invoice, on=on),
        "charge": charge_of(invoice),
    }
    return render(request, "invoicing/owed/charge.html", context)
