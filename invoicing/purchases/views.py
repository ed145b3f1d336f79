"""Pages of what the studio bought."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import (
    require_http_methods,
    require_POST,
    require_safe,
)

from invoicing.purchases.forms import (
    DriveForm,
    DropForm,
    PurchaseForm,
    ReceiptForm,
)
from invoicing.purchases.models import Purchase, PurchaseKind
from invoicing.purchases.operations import (
    change_purchase,
    drop_purchase,
    keep_receipt,
    record_purchase,
)
from studio.errors import DomainError
from studio.files.models import StoredFile
from studio.http import download, staff
from studio.panels import draw_panels
from studio.people.access import may
from studio.profile.models import StudioProfile


@may("purchase.edit")
@require_http_methods(["GET", "POST"])
def purchase_new(request: HttpRequest) -> HttpResponse:
    """Write down something bought."""
    return _written(request, PurchaseForm, None, "Add a purchase")


@may("purchase.edit")
@require_http_methods(["GET", "POST"])
def drive_new(request: HttpRequest) -> HttpResponse:
    """Write down a drive."""
    return _written(request, DriveForm, None, "Add a drive")


@may("purchase.see")
@require_safe
def purchase(request: HttpRequest, purchase_id: int) -> HttpResponse:
    """Show one purchase, its receipt and what may be done with it."""
    related = Purchase.objects.select_related("job", "receipt", "recorded_by")
    found = get_object_or_404(related, pk=purchase_id)
    return _page(request, found, ReceiptForm(), DropForm())


@may("purchase.edit")
@require_http_methods(["GET", "POST"])
def purchase_edit(request: HttpRequest, purchase_id: int) -> HttpResponse:
    """Change a purchase while its period is open."""
    found = get_object_or_404(Purchase.objects.standing(), pk=purchase_id)
    form_class = DriveForm if found.kind == PurchaseKind.MILEAGE else PurchaseForm
    return _written(request, form_class, found, str(found))


@may("purchase.edit")
@require_POST
def receipt_keep(request: HttpRequest, purchase_id: int) -> HttpResponse:
    """Keep the receipt of a purchase."""
    found = get_object_or_404(Purchase.objects.standing(), pk=purchase_id)
    form = ReceiptForm(request.POST, request.FILES)
    if form.is_valid():
        try:
            keep_receipt(
                purchase_id=found.pk,
                content=form.cleaned_data["receipt"].read(),
                by=staff(request).user,
                at=timezone.now(),
            )
        except DomainError as refusal:
            form.add_error("receipt", str(refusal))
        else:
            messages.success(request, "The receipt is kept.")
            return redirect(found)
    return _page(request, found, form, DropForm())


@may("purchase.edit")
@require_POST
def purchase_drop(request: HttpRequest, purchase_id: int) -> HttpResponse:
    """Take back a purchase that was written down wrongly."""
    found = get_object_or_404(Purchase.objects.standing(), pk=purchase_id)
    form = DropForm(request.POST)
    if form.is_valid():
        try:
            drop_purchase(
                purchase_id=found.pk,
                because=form.cleaned_data["because"],
                by=staff(request).user,
                at=timezone.now(),
            )
        except DomainError as refusal:
            form.add_error(None, str(refusal))
        else:
            messages.success(request, "The purchase counts no more.")
            return redirect("invoicing:purchases")
    return _page(request, found, ReceiptForm(), form)


@may("purchase.see")
@require_safe
def receipt(request: HttpRequest, purchase_id: int) -> HttpResponse:
    """Give the receipt's bytes."""
    file = get_object_or_404(StoredFile, purchase=purchase_id)
    return download(
        name=file.name, content_type=file.content_type, content=bytes(file.content)
    )


def _page(
    request: HttpRequest, found: Purchase, receipt: ReceiptForm, drop: DropForm
) -> HttpResponse:
    context = {
        "purchase": found,
        "receipt_form": receipt,
        "drop_form": drop,
        "panels": draw_panels("purchase", staff(request), found),
    }
    status = 422 if receipt.is_bound or drop.is_bound else 200
    return render(request, "invoicing/purchases/purchase.html", context, status=status)


def _written(
    request: HttpRequest,
    form_class: type[PurchaseForm | DriveForm],
    found: Purchase | None,
    title: str,
) -> HttpResponse:
    profile, at = StudioProfile.load(), timezone.now()
    today = at.astimezone(profile.zone).date()
    form = form_class(
        request.POST if request.method == "POST" else None,
        profile=profile,
        today=today,
        found=found,
        initial={"bought_on": today, "paid_on": today},
    )
    if form.is_valid():
        try:
            kept = _keep(form, found, request)
        except DomainError as refusal:
            form.add_error("bought_on", str(refusal))
        else:
            messages.success(request, "It is written down.")
            return redirect(kept)
    context = {"form": form, "purchase": found, "title": title}
    status = 422 if form.is_bound else 200
    return render(request, "invoicing/purchases/edit.html", context, status=status)


def _keep(
    form: PurchaseForm | DriveForm, found: Purchase | None, request: HttpRequest
) -> Purchase:
    by, at = staff(request).user, timezone.now()
    if found:
        return change_purchase(
            purchase_id=found.pk, details=form.details(), by=by, at=at
        )
    return record_purchase(details=form.details(), by=by, at=at)
