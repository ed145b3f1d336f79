"""Pages of kit, with the places beside it."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_safe

from jobs.kits.forms import KitItemForm
from jobs.kits.models import KitItem
from jobs.kits.operations import add_item, change_item
from jobs.places.models import Place
from studio.http import staff
from studio.people.access import may


@may("kit.see")
@require_safe
def kit(request: HttpRequest) -> HttpResponse:
    """List what the studio owns, and the places it works at."""
    context = {
        "items": KitItem.objects.order_by("retired", "category", "name"),
        "places": Place.objects.order_by("name"),
    }
    return render(request, "jobs/kits/kit.html", context)


@may("kit.edit")
@require_http_methods(["GET", "POST"])
def kit_item_new(request: HttpRequest) -> HttpResponse:
    """Take an item into the studio's kit."""
    form = KitItemForm(request.POST if request.method == "POST" else None)
    if form.is_valid():
        by, at = staff(request).user, timezone.now()
        add_item(details=form.details(), by=by, at=at)
        messages.success(request, "The item is in the kit.")
        return redirect("jobs:kit")
    context = {"form": form, "title": "New item", "back": reverse("jobs:kit")}
    return render(request, "jobs/form.html", context)


@may("kit.edit")
@require_http_methods(["GET", "POST"])
def kit_item(request: HttpRequest, item_id: int) -> HttpResponse:
    """Change what is known of an item."""
    found = get_object_or_404(KitItem, pk=item_id)
    shown = KitItem.objects.get(pk=item_id)
    data = request.POST if request.method == "POST" else None
    form = KitItemForm(data, instance=shown)
    if form.is_valid():
        by, at = staff(request).user, timezone.now()
        change_item(item_id=found.pk, details=form.details(), by=by, at=at)
        messages.success(request, "The item is changed.")
        return redirect("jobs:kit")
    context = {"form": form, "title": str(found), "back": reverse("jobs:kit")}
    return render(request, "jobs/form.html", context)
