"""Pages of places."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_safe

from jobs.places.forms import PlaceForm
from jobs.places.models import Place
from jobs.places.operations import PlaceDetails, add_place, change_place
from studio.http import staff
from studio.panels import draw_panels
from studio.people.access import may


@may("place.see")
@require_safe
def place(request: HttpRequest, place_id: int) -> HttpResponse:
    """Show a place: how to get there, and what the apps know of it."""
    found = get_object_or_404(Place, pk=place_id)
    panels = draw_panels("place.main", staff(request), found)
    context = {"place": found, "panels": panels}
    return render(request, "jobs/places/place.html", context)


@may("place.edit")
@require_http_methods(["GET", "POST"])
def place_new(request: HttpRequest) -> HttpResponse:
    """Take a place into the book."""
    form = PlaceForm(request.POST if request.method == "POST" else None)
    if form.is_valid():
        by, at = staff(request).user, timezone.now()
        made = add_place(details=form.details(), by=by, at=at)
        messages.success(request, f"{made} goes by the clock of {made.time_zone}.")
        return redirect(made)
    context = {"form": form, "title": "New place", "back": reverse("jobs:kit")}
    return render(request, "jobs/form.html", context)


@may("place.edit")
@require_http_methods(["GET", "POST"])
def place_edit(request: HttpRequest, place_id: int) -> HttpResponse:
    """Change what is known of a place."""
    found = get_object_or_404(Place, pk=place_id)
    names = PlaceDetails.__dataclass_fields__
    initial = {name: getattr(found, name) for name in names}
    initial["coordinates"] = f"{found.latitude_deg}, {found.longitude_deg}"
    data = request.POST if request.method == "POST" else None
    form = PlaceForm(data, initial=initial)
    if form.is_valid():
        by, at = staff(request).user, timezone.now()
        change_place(place_id=found.pk, details=form.details(), by=by, at=at)
        messages.success(request, "The place is changed.")
        return redirect(found)
    context = {"form": form, "title": str(found), "back": found.get_absolute_url()}
    return render(request, "jobs/form.html", context)
