"""What a site shows on the place's page."""

from django.template.loader import render_to_string
from django.utils.safestring import SafeString

from jobs.places.models import Place
from planning.sites.models import Site
from planning.sites.skyline import read_skyline
from studio.http import StaffRequest
from studio.panels import show_on


@show_on("place.main", action="place.see", order=20)
def skyline_panel(request: StaffRequest, place: Place) -> SafeString | str:
    """Show what hides the sun at a place."""
    site = Site.objects.filter(place=place).first() or Site(place=place)
    context = {"place": place, "site": site, "skyline": read_skyline(site.skyline)}
    return render_to_string("planning/sites/_place_panel.html", context, request)


@show_on("place.main", action="place.edit", order=21)
def rooms_panel(request: StaffRequest, place: Place) -> SafeString | str:
    """Show the rooms of a place and their windows."""
    rooms = place.rooms.prefetch_related("windows")
    context = {"place": place, "rooms": rooms}
    return render_to_string("planning/sites/_rooms_panel.html", context, request)
