"""Pages of places."""

from __future__ import annotations

from zoneinfo import ZoneInfo

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.html import conditional_escape
from django.views.decorators.http import require_http_methods, require_safe

from jobs.places.forms import PlaceForm
from jobs.places.models import Place
from jobs.places.operations import add_place, change_place
from jobs.places.queries import list_places
from jobs.places.zones import time_zone_at
from studio.forms.places import PositionError, read_position
from studio.http import staff
from studio.panels import draw_panels
from studio.people.access import may

POSITION_FIELDS = ("coordinates", "new_position")


@may("place.see")
@require_safe
def places(request: HttpRequest) -> HttpResponse:
    """List the places, or those that the words find."""
    words = request.GET.get("q", "").strip()[:100]
    page = request.GET.get("page", "1")
    context = {
        "list": list_places(words, page=page, at=timezone.now()),
        "words": words,
    }
    return render(request, "jobs/places/places.html", context)


@may("place.see")
@require_safe
def place(request: HttpRequest, place_id: int) -> HttpResponse:
    """Show a place: how to get there, and what the apps know of it."""
    found = get_object_or_404(Place, pk=place_id)
    coming = found.bookings.live().filter(ends_at__gt=timezone.now())
    context = {
        "place": found,
        "coming": coming.select_related("job").order_by("starts_at")[:10],
        "acts": draw_panels("place.acts", staff(request), found),
        "panels": draw_panels("place.main", staff(request), found),
    }
    return render(request, "jobs/places/place.html", context)


@may("place.edit")
@require_http_methods(["GET", "POST"])
def place_new(request: HttpRequest) -> HttpResponse:
    """Take a place into the book."""
    form = PlaceForm(request.POST if request.method == "POST" else None)
    if form.is_valid():
        by, at = staff(request).user, timezone.now()
        made = add_place(details=form.details(), by=by, at=at)
        messages.success(request, f"Kept. It goes by the clock of {made.time_zone}.")
        return redirect(made)
    context = {
        "form": form,
        "title": "New place",
        "crumbs": [_kit_crumb(), (reverse("jobs:places"), "Places")],
        "back": reverse("jobs:places"),
    }
    return render(request, "jobs/form.html", context)


@may("place.edit")
@require_http_methods(["GET", "POST"])
def place_edit(request: HttpRequest, place_id: int) -> HttpResponse:
    """Change what is known of a place."""
    found = get_object_or_404(Place, pk=place_id)
    data = request.POST if request.method == "POST" else None
    form = PlaceForm(data, place=found)
    if form.is_valid():
        by, at = staff(request).user, timezone.now()
        change_place(place_id=found.pk, details=form.details(), by=by, at=at)
        messages.success(request, "The place is changed.")
        return redirect(found)
    context = {
        "form": form,
        "title": "Change a place",
        "crumbs": [_kit_crumb(), (found.get_absolute_url(), found.name)],
        "back": found.get_absolute_url(),
    }
    return render(request, "jobs/form.html", context)


@may("place.see")
@require_safe
def position_echo(request: HttpRequest) -> HttpResponse:
    """Say where a pasted position is, and whose clock goes there."""
    given = [request.GET[name] for name in POSITION_FIELDS if request.GET.get(name)]
    if not given:
        return HttpResponse("")
    try:
        latitude, longitude = read_position(given[0][:400])
    except PositionError as refusal:
        return HttpResponse(conditional_escape(str(refusal)))
    spot = Place(
        latitude_deg=latitude,
        longitude_deg=longitude,
        time_zone=time_zone_at(latitude, longitude),
    )
    now = timezone.now().astimezone(ZoneInfo(spot.time_zone))
    words = f"{spot.coordinates_words}. Clock of {spot.time_zone}: now {now:%H:%M}."
    return HttpResponse(conditional_escape(words))


def _kit_crumb() -> tuple[str, str]:
    return reverse("jobs:kit"), "Kit and places"
