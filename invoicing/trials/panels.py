"""What a studio that has just been set up is offered."""

from django.template.loader import render_to_string
from django.utils.safestring import SafeString

from studio.http import StaffRequest
from studio.panels import show_on
from studio.profile.models import StudioProfile


@show_on("first_run.ready", action="quote.send", order=10)
def try_a_quote(request: StaffRequest, profile: StudioProfile) -> SafeString:
    """Offer a quote to oneself."""
    return render_to_string("invoicing/trials/_offer.html", {}, request)
