"""Writing a debt off that will not be paid."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from invoicing.invoices.models import Invoice
from invoicing.owed.forms import LossForm
from invoicing.owed.losses import write_off_debt
from invoicing.payments.operations import balance_of
from invoicing.periods.forms import tell_refusal
from studio.errors import DomainError
from studio.http import staff
from studio.money import Money
from studio.people.access import may
from studio.profile.models import StudioProfile


@may("payment.record")
@require_http_methods(["GET", "POST"])
def write_off(request: HttpRequest, invoice_id: int) -> HttpResponse:
    """Ask how much is given up and why, then write it off."""
    open_ones = Invoice.objects.unsettled().select_related("client", "job")
    invoice = get_object_or_404(open_ones, pk=invoice_id)
    balance = Money.from_minor(balance_of(invoice), invoice.currency)
    at = timezone.now()
    form = LossForm(
        request.POST if request.method == "POST" else None,
        currency=invoice.currency,
        initial={
            "amount": balance.amount,
            "lost_on": at.astimezone(StudioProfile.load().zone).date(),
        },
    )
    if form.is_valid():
        try:
            write_off_debt(
                invoice_id=invoice.pk, loss=form.loss(), by=staff(request).user, at=at
            )
        except DomainError as refusal:
            tell_refusal(form, refusal, day="lost_on", otherwise="amount")
        else:
            messages.success(request, "It is written off.")
            return redirect(invoice)
    context = {"invoice": invoice, "balance": balance, "form": form}
    status = 422 if form.is_bound else 200
    return render(request, "invoicing/owed/write_off.html", context, status=status)
