"""Pages of a site: its skyline."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from jobs.places.models import Place
from planning.sites.forms import SkylineForm, typed
from planning.sites.models import Site
from planning.sites.operations import keep_skyline
from planning.sites.skyline import read_skyline
from studio.http import staff
from studio.people.access import may


@may("place.edit")
@require_http_methods(["GET", "POST"])
def skyline(request: HttpRequest, place_id: int) -> HttpResponse:
    """Type what hides the sun at a place."""
    place = get_object_or_404(Place, pk=place_id)
    site = Site.objects.filter(place=place).first() or Site(place=place)
    form = SkylineForm(
        request.POST if request.method == "POST" else None,
        initial={
            "stretches": typed(read_skyline(site.skyline)),
            "measured": not site.estimated,
        },
    )
    if form.is_valid():
        keep_skyline(
            place=place,
            skyline=form.cleaned_data["stretches"],
            estimated=not form.cleaned_data["measured"],
            by=staff(request).user,
            at=timezone.now(),
        )
        messages.success(request, "The skyline is kept.")
        return redirect(place)
    context = {"place": place, "form": form}
    return render(request, "planning/sites/skyline.html", context)
