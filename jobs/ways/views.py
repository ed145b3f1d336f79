"""The page of the ways from a place to the others."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from jobs.places.models import Place
from jobs.ways.forms import WayForm
from jobs.ways.operations import say_way
from jobs.ways.queries import ways_between
from studio.http import staff
from studio.people.access import may


@may("place.edit")
@require_http_methods(["GET", "POST"])
def ways(request: HttpRequest, place_id: int) -> HttpResponse:
    """Show how long it takes from a place to the others, and note a real figure."""
    here = get_object_or_404(Place, pk=place_id)
    form = WayForm(request.POST if request.method == "POST" else None, here=here)
    if form.is_valid():
        by, at = staff(request).user, timezone.now()
        say_way(here=here, **form.cleaned_data, by=by, at=at)
        messages.success(request, "The way is kept.")
        return redirect(reverse("jobs:place_ways", args=[here.pk]))
    others = list(Place.objects.exclude(pk=here.pk)[:200])
    known = ways_between(here, others)
    rows = [(place, known[place.pk]) for place in others]
    context = {"place": here, "rows": rows, "form": form}
    return render(request, "jobs/ways/ways.html", context)
