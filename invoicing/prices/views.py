"""Pages of the price list."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_safe

from invoicing.prices.forms import (
    PartLines,
    PriceForm,
    RateChanges,
    initial_changes,
    initial_of,
    initial_parts,
)
from invoicing.prices.models import PriceItem, PriceKind
from invoicing.prices.operations import add_price, change_price, set_parts
from invoicing.prices.queries import groups_of_prices, listed_value
from invoicing.prices.rates import RateChangeError, set_rate_changes
from studio.http import staff
from studio.people.access import may
from studio.profile.models import StudioProfile

PARTS = "part"
CHANGES = "change"


@may("price.see")
@require_safe
def prices(request: HttpRequest) -> HttpResponse:
    """Show the price list, kind by kind."""
    context = {"groups": groups_of_prices(), "kinds": PriceKind.choices}
    return render(request, "invoicing/prices/prices.html", context)


@may("price.edit")
@require_http_methods(["GET", "POST"])
def price_new(request: HttpRequest) -> HttpResponse:
    """Put something on the list."""
    asked = request.GET.get("kind", "")
    kind = PriceKind(asked) if asked in PriceKind.values else PriceKind.ITEM
    data = request.POST if request.method == "POST" else None
    form = PriceForm(data, profile=StudioProfile.load(), kind=kind)
    if form.is_valid():
        item = add_price(
            details=form.details(), by=staff(request).user, at=timezone.now()
        )
        messages.success(request, f"“{form.cleaned_data['name']}” is on the list.")
        if kind == PriceKind.PACKAGE:
            return redirect("invoicing:price_edit", item.pk)
        return redirect("invoicing:prices")
    return _page(request, form, None)


@may("price.edit")
@require_http_methods(["GET", "POST"])
def price_edit(request: HttpRequest, item_id: int) -> HttpResponse:
    """Change a price, and what is in a package; quotes that stand keep theirs."""
    item = get_object_or_404(PriceItem, pk=item_id)
    profile = StudioProfile.load()
    data = request.POST if request.method == "POST" else None
    form = PriceForm(
        data,
        profile=profile,
        kind=PriceKind(item.kind),
        initial=initial_of(item, profile),
    )
    parts = _parts(item, data) if item.kind == PriceKind.PACKAGE else None
    if form.is_valid() and (parts is None or parts.is_valid()):
        _keep(request, item, form, parts)
        messages.success(request, "The price is changed.")
        return redirect("invoicing:prices")
    return _page(request, form, item, parts)


@may("price.edit")
@require_http_methods(["GET", "POST"])
def rate_changes(request: HttpRequest) -> HttpResponse:
    """Say which rate of tax becomes which from a day on."""
    data = request.POST if request.method == "POST" else None
    lines = RateChanges(data, prefix=CHANGES, initial=initial_changes())
    refused = ""
    if data is not None and lines.is_valid():
        changes = [change for form in lines.forms if (change := form.change())]
        by, at = staff(request).user, timezone.now()
        try:
            set_rate_changes(changes=changes, by=by, at=at)
        except RateChangeError as refusal:
            refused = str(refusal)
        else:
            messages.success(request, "The rates are kept.")
            return redirect("invoicing:prices")
    status = 200 if data is None else 422
    context = {"lines": lines, "refused": refused}
    return render(request, "invoicing/prices/rates.html", context, status=status)


def _keep(request: HttpRequest, item: PriceItem, form: PriceForm, parts: Any) -> None:
    by, at = staff(request).user, timezone.now()
    change_price(item_id=item.pk, details=form.details(), by=by, at=at)
    if parts is not None:
        kept = [part for one in parts.forms if (part := one.part())]
        set_parts(package_id=item.pk, parts=kept, by=by, at=at)


def _parts(item: PriceItem, data: Any) -> Any:
    return PartLines(
        data,
        prefix=PARTS,
        initial=initial_parts(item),
        form_kwargs={"package": item},
    )


def _page(
    request: HttpRequest, form: PriceForm, item: PriceItem | None, parts: Any = None
) -> HttpResponse:
    context = {
        "form": form,
        "item": item,
        "kind": form.kind,
        "parts": parts,
        "listed": listed_value(item) if item and parts is not None else None,
        "kinds": PriceKind.choices,
    }
    status = 422 if form.is_bound else 200
    return render(request, "invoicing/prices/price.html", context, status=status)
