"""Pages of the price list."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_safe

from invoicing.prices.forms import PriceForm, initial_of
from invoicing.prices.models import PriceItem
from invoicing.prices.operations import add_price, change_price
from studio.http import staff
from studio.money import Money
from studio.people.access import may
from studio.profile.models import StudioProfile


@may("price.see")
@require_safe
def prices(request: HttpRequest) -> HttpResponse:
    """Show the price list."""
    profile = StudioProfile.load()
    items = PriceItem.objects.order_by("retired", "is_extra", "name")
    rows = [
        (item, Money.from_minor(item.unit_price_minor, profile.currency))
        for item in items
    ]
    return render(request, "invoicing/prices/prices.html", {"rows": rows})


@may("price.edit")
@require_http_methods(["GET", "POST"])
def price_new(request: HttpRequest) -> HttpResponse:
    """Put something on the list."""
    data = request.POST if request.method == "POST" else None
    form = PriceForm(data, profile=StudioProfile.load())
    if form.is_valid():
        add_price(details=form.details(), by=staff(request).user, at=timezone.now())
        messages.success(request, f"“{form.cleaned_data['name']}” is on the list.")
        return redirect("invoicing:prices")
    return _page(request, form, None)


@may("price.edit")
@require_http_methods(["GET", "POST"])
def price_edit(request: HttpRequest, item_id: int) -> HttpResponse:
    """Change a price; quotes that stand keep theirs."""
    item = get_object_or_404(PriceItem, pk=item_id)
    profile = StudioProfile.load()
    form = PriceForm(
        request.POST if request.method == "POST" else None,
        profile=profile,
        initial=initial_of(item, profile),
    )
    if form.is_valid():
        change_price(
            item_id=item.pk,
            details=form.details(),
            by=staff(request).user,
            at=timezone.now(),
        )
        messages.success(request, "The price is changed.")
        return redirect("invoicing:prices")
    return _page(request, form, item)


def _page(
    request: HttpRequest, form: PriceForm, item: PriceItem | None
) -> HttpResponse:
    context = {"form": form, "item": item}
    status = 422 if form.is_bound else 200
    return render(request, "invoicing/prices/price.html", context, status=status)
