"""The page that notes weather."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from planning.shoots.views import booking_or_404
from planning.weather.forms import WeatherForm
from planning.weather.operations import note_weather
from studio.http import staff
from studio.people.access import may


@may("plan.edit")
@require_http_methods(["GET", "POST"])
def weather(request: HttpRequest, booking_id: int) -> HttpResponse:
    """Note the weather that somebody read for a session."""
    booking = booking_or_404(booking_id)
    form = WeatherForm(
        request.POST if request.method == "POST" else None,
        initial={"at_time": booking.local_start.time()},
    )
    if form.is_valid():
        note_weather(
            booking=booking,
            details=form.details(booking),
            by=staff(request).user,
            at=timezone.now(),
        )
        messages.success(request, "The weather is noted.")
        return redirect("planning:plan", booking.pk)
    context = {"booking": booking, "job": booking.job, "form": form}
    return render(request, "planning/weather/form.html", context)
