"""The page on location, and the taps that it sends."""

from __future__ import annotations

from uuid import uuid4

from django.conf import settings
from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_POST, require_safe

from jobs.bookings.models import Booking
from planning.location.forms import TickForm
from planning.location.operations import set_tick
from planning.location.queries import kept_until, location_page
from planning.readings.forms import ReadingForm
from studio.errors import DomainError
from studio.http import sent_by_script, short_answer, staff
from studio.people.access import may


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
    here = location_page(booking, at=timezone.now(), wanted=wanted)
    initial = {"client_key": str(uuid4()), "set_up": here.current_pk}
    context = {
        "booking": booking,
        "job": booking.job,
        "here": here,
        "form": ReadingForm(set_ups=here.shoot.set_ups, initial=initial),
    }
    return render(request, "planning/location/page.html", context)


@may("location.use")
@require_safe
def location_worker(request: HttpRequest, booking_id: int) -> HttpResponse:
    """Give the script that keeps this session's page, and no other, on the phone.

    It lies beside the page, so that no browser lets it see any other address.
    """
    booking = _booking(booking_id)
    context = {
        "page": reverse("planning:location", args=[booking.pk]),
        "static_files": settings.STATIC_URL,
        "until_ms": int(kept_until(booking).timestamp() * 1000),
    }
    return render(
        request,
        "planning/location/worker.js",
        context,
        content_type="text/javascript; charset=utf-8",
    )


@may("location.use")
@require_POST
def location_tick(request: HttpRequest, booking_id: int) -> HttpResponse:
    """Tick something off, or take it back; a script gets 200, or 409 with a reason."""
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
    if sent_by_script(request):
        return short_answer(refused, status=409 if refused else 200)
    if refused:
        messages.error(request, refused)
    return redirect("planning:location", booking.pk)
