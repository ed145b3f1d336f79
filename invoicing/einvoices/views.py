"""Downloads of an issued paper as data."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.utils import timezone
from django.views.decorators.http import require_safe

from invoicing.einvoices.operations import finish_einvoice
from invoicing.invoices.models import DocumentKind, Invoice
from studio.errors import DomainError
from studio.http import download
from studio.people.access import may


@may("invoice.see")
@require_safe
def einvoice_pdf(request: HttpRequest, invoice_id: int) -> HttpResponse:
    """Give the paper's PDF with its data in it."""
    return _give(request, invoice_id, DocumentKind.HYBRID)


@may("invoice.see")
@require_safe
def einvoice_ubl(request: HttpRequest, invoice_id: int) -> HttpResponse:
    """Give the paper as UBL."""
    return _give(request, invoice_id, DocumentKind.UBL)


def _give(request: HttpRequest, invoice_id: int, kind: DocumentKind) -> HttpResponse:
    found = get_object_or_404(Invoice, pk=invoice_id)
    try:
        file = finish_einvoice(invoice_id=found.pk, kind=kind, at=timezone.now())
    except DomainError as refusal:
        messages.error(request, str(refusal))
        return redirect(found)
    return download(
        name=file.name, content_type=file.content_type, content=bytes(file.content)
    )
