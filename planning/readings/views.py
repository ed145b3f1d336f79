"""The page of what worked, on location or from paper afterwards."""

from __future__ import annotations

from datetime import datetime
from uuid import uuid4

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST

from jobs.bookings.models import Booking
from planning.readings.forms import ReadingForm
from planning.readings.offers import offer_of
from planning.readings.operations import Frame, accept_offer, keep_reading
from planning.readings.queries import moment_of, readings_of, verdict_words
from planning.shifts.queries import stops_words
from planning.shoots.queries import planned_shoot
from planning.shoots.shifted import shown_shifts
from studio.errors import DomainError
from studio.http import sent_by_script, short_answer, staff
from studio.kept import made_at
from studio.people.access import may
from studio.wording import day_short


@may("location.use")
@require_http_methods(["GET", "POST"])
def readings(request: HttpRequest, booking_id: int) -> HttpResponse:
    """Write what worked, and read what it says of the plan."""
    bookings = Booking.objects.select_related("job__client", "place")
    booking = get_object_or_404(bookings, pk=booking_id)
    shoot = planned_shoot(booking)
    form = ReadingForm(
        request.POST if request.method == "POST" else None,
        set_ups=shoot.set_ups,
        initial={
            "client_key": str(uuid4()),
            "set_up": request.GET.get("set_up", ""),
        },
    )
    now = timezone.now()
    kept = _keep(request, booking, form, now) if form.is_valid() else ""
    if sent_by_script(request) and form.is_bound:
        return short_answer(kept or _faults(form), status=200 if kept else 422)
    if kept:
        messages.success(request, kept)
        return redirect("planning:readings", booking.pk)
    context = {
        "booking": booking,
        "job": booking.job,
        "form": form,
        "rows": readings_of(booking.pk),
        "offer": offer_of(shoot, now),
        "shifts": shown_shifts(shoot),
    }
    status = 422 if form.is_bound else 200
    return render(request, "planning/readings/page.html", context, status=status)


def _keep(
    request: HttpRequest, booking: Booking, form: ReadingForm, now: datetime
) -> str:
    """Keep what was written; return what it says of the plan, or nothing if refused."""
    try:
        made = made_at(form.cleaned_data["made_at"], now)
        at = moment_of(booking, form.cleaned_data["taken_at"], made)
        if at is None:
            form.add_error("taken_at", _not_now(booking))
            return ""
        kept = keep_reading(
            booking=booking, frame=_frame(form), by=staff(request).user, at=at
        )
    except DomainError as refusal:
        form.add_error(None, str(refusal))
        return ""
    return f"Kept: {verdict_words(kept.change_stops)}."


def _faults(form: ReadingForm) -> str:
    """Return what is wrong with a form, each with its field's name."""
    faults = []
    for name, found in form.errors.items():
        label = form.fields[name].label if name in form.fields else ""
        faults += [f"{label}: {one}" if label else str(one) for one in found]
    return " ".join(faults)


@may("location.use")
@require_POST
def reading_shift(
    request: HttpRequest, booking_id: int, reading_id: int
) -> HttpResponse:
    """Shift the set-ups still to come; a script gets 200, or 409 with a reason."""
    booking = get_object_or_404(
        Booking.objects.select_related("job__client", "place"), pk=booking_id
    )
    by, at = staff(request).user, timezone.now()
    refused = ""
    try:
        shift = accept_offer(booking=booking, reading_id=reading_id, by=by, at=at)
        words = f"The set-ups still to come stand {stops_words(shift.stops)}."
    except DomainError as refusal:
        refused = words = str(refusal)
    if sent_by_script(request):
        return short_answer(words, status=409 if refused else 200)
    level = messages.ERROR if refused else messages.SUCCESS
    messages.add_message(request, level, words)
    return redirect("planning:readings", booking.pk)


def _frame(form: ReadingForm) -> Frame:
    clean = form.cleaned_data
    return Frame(
        f_number=clean["f_number"],
        shutter_s=clean["shutter"],
        iso=clean["iso"],
        set_up_id=clean["set_up"],
        note=clean["note"],
        client_key=clean["client_key"],
    )


def _not_now(booking: Booking) -> str:
    day = booking.local_start
    return (
        f"The session is on {day_short(day)}, {day:%H:%M}, not now. "
        "Say at what time the frame was taken."
    )
