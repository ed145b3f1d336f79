"""Pages of invoices: the list, and an issued paper."""

from __future__ import annotations

from datetime import date

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_POST, require_safe

from invoicing.einvoices.terms import refusal
from invoicing.invoices.finishing import finish_document, write_letter
from invoicing.invoices.models import DocumentKind, Invoice
from invoicing.invoices.printed import printed_invoice
from invoicing.invoices.queries import row_of
from invoicing.invoices.taking_back import credited_of
from studio.http import download, staff
from studio.mail.models import Message
from studio.panels import draw_panels
from studio.people.access import may
from studio.profile.models import StudioProfile


def studio_today() -> date:
    """Return the day by the studio's clock."""
    return timezone.now().astimezone(StudioProfile.load().zone).date()


@may("invoice.see")
@require_safe
def invoice(request: HttpRequest, invoice_id: int) -> HttpResponse:
    """Show one issued paper: what it says, what was paid, what it corrects."""
    related = Invoice.objects.with_balance().select_related("client", "job", "corrects")
    found = get_object_or_404(related, pk=invoice_id)
    context = {
        "invoice": found,
        "row": row_of(found, on=studio_today()),
        "printed": printed_invoice(found.snapshot),
        "payments": found.allocations.select_related("payment__reversal").order_by(
            "pk"
        ),
        "credit_notes": found.credit_notes.order_by("chain_sequence"),
        "may_credit": not (found.is_credit_note or credited_of(found).is_spent),
        "mail": Message.objects.about(found),
        "document": found.documents.filter(kind=DocumentKind.PDF)
        .select_related("file")
        .first(),
        "no_data": refusal(found.snapshot),
        "panels": draw_panels("invoice", staff(request), found),
    }
    return render(request, "invoicing/invoices/invoice.html", context)


@may("invoice.see")
@require_safe
def invoice_pdf(request: HttpRequest, invoice_id: int) -> HttpResponse:
    """Give the paper's bytes, made now if the sweep has not come yet."""
    found = get_object_or_404(Invoice, pk=invoice_id)
    file = finish_document(invoice_id=found.pk, at=timezone.now())
    return download(
        name=file.name, content_type=file.content_type, content=bytes(file.content)
    )


@may("invoice.send")
@require_POST
def invoice_send(request: HttpRequest, invoice_id: int) -> HttpResponse:
    """Put the paper's letter into the outbox; a second time does nothing more."""
    found = get_object_or_404(Invoice, pk=invoice_id)
    at = timezone.now()
    if write_letter(found, at=at) is None:
        messages.error(request, f"{found.client} has no e-mail address yet.")
    else:
        finish_document(invoice_id=found.pk, at=at)
        messages.success(request, f"{found.number} is on its way.")
    return redirect(found)
