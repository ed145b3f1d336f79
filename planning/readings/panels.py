"""What readings show on the place's page."""

from django.template.loader import render_to_string
from django.utils.safestring import SafeString

from jobs.places.models import Place
from planning.readings.queries import place_readings
from studio.http import StaffRequest
from studio.panels import show_on


@show_on("place.main", action="plan.see", order=40)
def readings_panel(request: StaffRequest, place: Place) -> SafeString | str:
    """Show what was read at a place so far, and what it says of the plans."""
    held = place_readings(place)
    if not held.rows:
        return ""
    context = {"place": place, "readings": held}
    return render_to_string("planning/readings/_place_panel.html", context, request)
