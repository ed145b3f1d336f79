"""What leads to the page on location."""

from django.template.loader import render_to_string
from django.utils.safestring import SafeString

from jobs.bookings.models import Booking
from jobs.bookings.shared import session_on
from jobs.jobs.models import Job
from studio.http import StaffRequest
from studio.panels import show_on


@show_on("job.acts", action="location.use", order=50)
def location_button(request: StaffRequest, job: Job) -> SafeString | str:
    """Lead to the phone's page of the job's session, once the session is held."""
    booking = session_on(request, job)
    if booking is None or not booking.is_holding:
        return ""
    context = {"booking": booking}
    return render_to_string("planning/location/_act.html", context, request)


@show_on("today.session", action="location.use", order=60)
def location_link(request: StaffRequest, booking: Booking) -> SafeString | str:
    """Lead from a session of today to the phone's page."""
    context = {"booking": booking}
    return render_to_string("planning/location/_today.html", context, request)
