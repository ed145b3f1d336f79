"""The page on location, and the taps that it sends."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_POST, require_safe

from jobs.bookings.models import Booking
from planning.location.forms import TickForm
from planning.location.operations import set_tick
from planning.location.queries import location_page
from studio.errors import DomainError
from studio.http import staff
from studio.people.access import may

BY_SCRIPT = "X-Kept"


def _booking(booking_id: int) -> Booking:
    bookings = Booking.objects.select_related("job__client", "place")
    return get_object_or_404(bookings, pk=booking_id)


@may("location.use")
@require_safe
def location(request: HttpRequest, booking_id: int) -> HttpResponse:
    """Show the set-up that is on, how long the light lasts, and who is left."""
    booking = _booking(booking_id)
    number = request.GET.get("set_up", "")
    wanted = int(number) if number.isascii() and number.isdigit() else None
    context = {
        "booking": booking,
        "job": booking.job,
        "here": location_page(booking, at=timezone.now(), wanted=wanted),
    }
    return render(request, "planning/location/page.html", context)


@may("location.use")
@require_POST
def location_tick(request: HttpRequest, booking_id: int) -> HttpResponse:
    """Tick something off, or take it back; a script gets 204, or 409 with a reason."""
    booking = _booking(booking_id)
    form = TickForm(request.POST)
    refused = "" if form.is_valid() else "What was tapped could not be read."
    if not refused:
        try:
            set_tick(
                booking=booking,
                key=form.cleaned_data["key"],
                is_done=form.cleaned_data["is_done"],
                by=staff(request).user,
                at=form.tapped(timezone.now()),
            )
        except DomainError as refusal:
            refused = str(refusal)
    if request.headers.get(BY_SCRIPT):
        return HttpResponse(refused, status=409 if refused else 204)
    if refused:
        messages.error(request, refused)
    return redirect("planning:location", booking.pk)
