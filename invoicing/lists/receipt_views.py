"""Saying of several purchases at once that they need no receipt."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST

from invoicing.lists.acts import MOST, Ticked, ticked
from invoicing.lists.purchases import PURCHASES, stamp_of
from invoicing.lists.views import look_now
from invoicing.purchases.forms import NoReceiptForm
from invoicing.purchases.models import Purchase
from invoicing.purchases.operations import expect_receipt, waive_receipt
from studio.errors import DomainError
from studio.http import staff
from studio.people.access import may


@may("purchase.edit")
@require_http_methods(["GET", "POST"])
def no_receipts(request: HttpRequest) -> HttpResponse:
    """Ask why, then say it of those purchases that stand as they were shown."""
    if request.method != "POST":
        pks = [one for one in request.GET.getlist("chosen") if one.isdecimal()]
        rows = Purchase.objects.standing().filter(pk__in=pks[:MOST])
        return _page(request, list(rows), NoReceiptForm())
    found = ticked(PURCHASES, request.POST.getlist("chosen"), look_now())
    form = NoReceiptForm(request.POST)
    if not form.is_valid():
        return _page(request, found.rows, form)
    _waive(request, found, form.cleaned_data["because"])
    return redirect("invoicing:purchases")


@may("purchase.edit")
@require_POST
def receipt_expected(request: HttpRequest, purchase_id: int) -> HttpResponse:
    """Expect the receipt of a purchase after all."""
    found = get_object_or_404(Purchase.objects.standing(), pk=purchase_id)
    expect_receipt(purchase_id=found.pk, by=staff(request).user, at=timezone.now())
    messages.success(request, "Its receipt is expected again.")
    return redirect(found)


def _waive(request: HttpRequest, found: Ticked, because: str) -> None:
    done, refused = 0, list(found.refused)
    for purchase in found.rows:
        try:
            waive_receipt(
                purchase_id=purchase.pk,
                because=because,
                by=staff(request).user,
                at=timezone.now(),
            )
        except DomainError as refusal:
            refused.append(str(refusal))
        else:
            done += 1
    if done:
        many = "purchase needs" if done == 1 else "purchases need"
        messages.success(request, f"{done} {many} no receipt.")
    for words in refused:
        messages.error(request, words)


def _page(request: HttpRequest, rows: Any, form: NoReceiptForm) -> HttpResponse:
    context = {
        "rows": [(row, f"{row.pk}.{stamp_of(row)}") for row in rows],
        "form": form,
    }
    status = 422 if form.is_bound else 200
    return render(request, "invoicing/lists/no_receipts.html", context, status=status)
