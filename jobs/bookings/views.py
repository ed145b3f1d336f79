"""Pages of sessions: the form, and the diary."""

from __future__ import annotations

from datetime import datetime, time, timedelta
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import (
    require_http_methods,
    require_POST,
    require_safe,
)

from jobs.bookings.forms import SessionForm
from jobs.bookings.models import Booking
from jobs.bookings.operations import (
    cancel_booking,
    change_booking,
    confirm_booking,
    pencil_booking,
    propose_booking,
)
from jobs.jobs.models import Job
from studio.errors import DomainError
from studio.http import staff
from studio.people.access import may
from studio.profile.models import StudioProfile
from studio.timespan import TimeSpan


@may("booking.edit")
@require_http_methods(["GET", "POST"])
def session(request: HttpRequest, job_id: int) -> HttpResponse:
    """Give a job its session, or move the one that it has."""
    job = get_object_or_404(Job, pk=job_id)
    booking = job.bookings.live().select_related("place").last()
    data = request.POST if request.method == "POST" else None
    initial = _initial(booking) if booking else {"people": [job.owner]}
    form = SessionForm(data, initial=initial)
    if form.is_valid():
        by, at = staff(request).user, timezone.now()
        try:
            if booking:
                wish = form.wish()
                change_booking(booking_id=booking.pk, wish=wish, by=by, at=at)
            else:
                propose_booking(job=job, wish=form.wish(), by=by, at=at)
        except DomainError as refusal:
            form.add_error(None, str(refusal))
        else:
            messages.success(request, "The session is written down.")
            return redirect(job)
    context = {
        "form": form,
        "title": f"Session of {job.title}",
        "back": job.get_absolute_url(),
    }
    return render(request, "jobs/form.html", context)


@may("booking.edit")
@require_POST
def booking_act(request: HttpRequest, booking_id: int, act: str) -> HttpResponse:
    """Pencil, confirm or cancel a session."""
    booking = get_object_or_404(Booking.objects.select_related("job"), pk=booking_id)
    by, at = staff(request).user, timezone.now()
    days = timedelta(days=StudioProfile.load().deposit_days)
    try:
        if act == "pencil":
            pencil_booking(booking_id=booking.pk, until=at + days, by=by, at=at)
        elif act == "confirm":
            confirm_booking(booking_id=booking.pk, by=by, at=at)
        else:
            cancel_booking(booking_id=booking.pk, by=by, at=at)
    except DomainError as refusal:
        messages.error(request, str(refusal))
    return redirect(booking.job)


@may("diary.see")
@require_safe
def diary(request: HttpRequest) -> HttpResponse:
    """List the sessions of the weeks to come."""
    zone = StudioProfile.load().zone
    today = timezone.now().astimezone(zone).date()
    start = datetime.combine(today, time(), tzinfo=zone)
    span = TimeSpan(start, start + timedelta(weeks=12))
    coming = Booking.objects.live().during(span).select_related("job__client", "place")
    context = {"bookings": coming.order_by("starts_at"), "today": today}
    return render(request, "jobs/diary/diary.html", context)


def _initial(booking: Booking) -> dict[str, Any]:
    wanted = booking.reservations.all()
    return {
        "place": booking.place,
        "day": booking.local_start.date(),
        "starts": booking.local_start.time(),
        "ends": booking.local_end.time(),
        "setting_up_minutes": booking.setting_up_minutes,
        "people": [one.person_id for one in wanted if one.person_id],
        "kit": [one.kit_item_id for one in wanted if one.kit_item_id],
        "weather_decision": booking.weather_decision,
    }
