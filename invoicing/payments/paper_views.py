"""Receipts: their bytes, and the letter that takes one to the client."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_safe

from invoicing.payments.forms import SendForm
from invoicing.payments.models import Payment
from invoicing.payments.queries import seen_payment
from invoicing.payments.receipts import keep_receipt, receipt_words, send_paper
from studio.http import download, staff
from studio.people.access import may


@may("money.see")
@require_safe
def receipt_pdf(request: HttpRequest, payment_id: int) -> HttpResponse:
    """Give the receipt's bytes, kept from now on."""
    get_object_or_404(Payment, pk=payment_id)
    file = keep_receipt(payment_id=payment_id, at=timezone.now())
    return download(
        name=file.name, content_type=file.content_type, content=bytes(file.content)
    )


@may("invoice.send")
@require_http_methods(["GET", "POST"])
def receipt_send(request: HttpRequest, payment_id: int) -> HttpResponse:
    """Show the letter that takes the receipt to the client, and send it as edited."""
    found = get_object_or_404(Payment.objects.select_related("client"), pk=payment_id)
    form = SendForm(
        request.POST if request.method == "POST" else None,
        initial=receipt_words(seen_payment(payment_id)),
    )
    if form.is_valid():
        at = timezone.now()
        send_paper(
            about=found,
            file=keep_receipt(payment_id=payment_id, at=at),
            said=form.cleaned_data | {"name": found.client.addressee},
            by=staff(request).user,
            at=at,
        )
        messages.success(request, "The receipt is in the outbox.")
        return redirect(found)
    context = {
        "form": form,
        "about": found,
        "about_name": found.number,
        "title": "Send the receipt",
        "paper": "invoicing:receipt_pdf",
    }
    return render(request, "invoicing/payments/send.html", context)
