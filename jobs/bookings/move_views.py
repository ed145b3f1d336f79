"""Pages of moving a session, calling it off, and its weather call.

Each shows what it would touch before anything happens.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST

from jobs.bookings.models import Booking
from jobs.bookings.move_forms import MoveForm, OffForm, SpareForm
from jobs.bookings.moving import call_off, move_booking, take_up_again
from jobs.bookings.states import SETTLED
from jobs.bookings.weather import go_ahead, keep_spare, spare_of, take_spare
from jobs.bookings.words import SessionWords, session_words
from studio.effects import Change, Effect, effects_of
from studio.errors import DomainError
from studio.http import staff
from studio.people.access import may
from studio.people.models import Person
from studio.profile.models import StudioProfile
from studio.timespan import TimeSpan


@may("booking.edit")
@require_http_methods(["GET", "POST"])
def move(request: HttpRequest, booking_id: int) -> HttpResponse:
    """Ask for other times, show what they touch, then move the session."""
    booking = _booking(booking_id)
    if booking.status in SETTLED:
        messages.error(request, "This session is over or called off, so it stays.")
        return redirect(booking.job)
    form = _move_form(request, booking)
    by, at = staff(request).user, timezone.now()
    effects: list[Effect] | None = None
    span = form.span
    if span is not None:
        effects = _effects(booking, span, by, at)
        seen = request.POST.get("seen") == str(span)
        if seen and form.is_valid() and _moved(request, form, span):
            return redirect(booking.job)
    context = {
        "booking": booking,
        "form": form,
        "words": _words(booking),
        "effects": effects,
        "seen": span,
        "new": _words(_at(booking, span)) if span else None,
    }
    return render(request, "jobs/bookings/move.html", context)


@may("booking.edit")
@require_http_methods(["GET", "POST"])
def cancel(request: HttpRequest, booking_id: int) -> HttpResponse:
    """Show what calling a session off touches, ask why, then call it off."""
    booking = _booking(booking_id)
    form = OffForm(request.POST if request.method == "POST" else None)
    by, at = staff(request).user, timezone.now()
    if form.is_valid():
        because = form.cleaned_data["because"]
        try:
            call_off(booking_id=booking.pk, because=because, by=by, at=at)
        except DomainError as refusal:
            form.add_error(None, str(refusal))
        else:
            messages.success(request, "The session is called off.")
            return redirect(booking.job)
    context = {
        "booking": booking,
        "form": form,
        "words": _words(booking),
        "effects": effects_of(Change(booking=booking, at=at), by),
    }
    return render(request, "jobs/bookings/cancel.html", context)


@may("booking.edit")
@require_POST
def take_up(request: HttpRequest, booking_id: int) -> HttpResponse:
    """Take back that a session was called off today."""
    booking = _booking(booking_id)
    return _do(request, booking, take_up_again, "The session stands again.")


@may("booking.edit")
@require_http_methods(["GET", "POST"])
def weather(request: HttpRequest, booking_id: int) -> HttpResponse:
    """Keep a spare date for a session, or show both dates to choose from."""
    booking = _booking(booking_id)
    if booking.status in SETTLED or booking.spare_of_id:
        messages.error(request, "This session needs no spare date.")
        return redirect(booking.job)
    by, at = staff(request).user, timezone.now()
    spare = spare_of(booking)
    data = request.POST if request.method == "POST" else None
    form = SpareForm(data, booking=booking)
    if spare is None and form.is_valid() and _kept_spare(request, form):
        return redirect("jobs:weather_call", booking.pk)
    context = {
        "booking": booking,
        "form": form,
        "words": _words(booking),
        "spare": spare,
        "spare_words": _words(spare) if spare else None,
        "effects": _effects(booking, spare.span, by, at, spare) if spare else [],
    }
    return render(request, "jobs/bookings/weather.html", context)


@may("booking.edit")
@require_POST
def weather_go(request: HttpRequest, booking_id: int) -> HttpResponse:
    """Stay on the first date."""
    done = "The session stays on its date; the spare one is free."
    return _do(request, _booking(booking_id), go_ahead, done)


@may("booking.edit")
@require_POST
def weather_spare(request: HttpRequest, booking_id: int) -> HttpResponse:
    """Go over to the spare date."""
    done = "The session is on its spare date now; the first one is free."
    return _do(request, _booking(booking_id), take_spare, done)


def _move_form(request: HttpRequest, booking: Booking) -> MoveForm:
    """Return the form as it was sent, or with the times that the address asks for."""
    if request.method == "POST":
        return MoveForm(request.POST, booking=booking)
    day, starts = request.GET.get("day", ""), request.GET.get("starts", "")
    if day or starts:
        return MoveForm.from_address(booking, day=day, starts=starts)
    return MoveForm(booking=booking)


def _moved(request: HttpRequest, form: MoveForm, span: TimeSpan) -> bool:
    """Move the session, or set the refusal beside the times; say whether it moved."""
    try:
        booking = move_booking(
            booking_id=form.booking.pk,
            span=span,
            because=form.cleaned_data["because"],
            version=form.cleaned_data["version"],
            by=staff(request).user,
            at=timezone.now(),
        )
    except DomainError as refusal:
        form.add_error("day", str(refusal))
        return False
    words = _words(booking)
    messages.success(request, f"Moved to {words.day}, {words.clocks}.")
    return True


def _kept_spare(request: HttpRequest, form: SpareForm) -> bool:
    try:
        keep_spare(
            booking_id=form.booking.pk,
            span=form.cleaned_data["span"],
            decide_by=form.decide_by(),
            by=staff(request).user,
            at=timezone.now(),
        )
    except DomainError as refusal:
        form.add_error(None, str(refusal))
        return False
    messages.success(request, "Both dates are held until you decide.")
    return True


def _do(
    request: HttpRequest, booking: Booking, act: Callable[..., Booking], done: str
) -> HttpResponse:
    try:
        act(booking_id=booking.pk, by=staff(request).user, at=timezone.now())
    except DomainError as refusal:
        messages.error(request, str(refusal))
    else:
        messages.success(request, done)
    return redirect(booking.job)


def _effects(
    booking: Booking,
    span: TimeSpan,
    by: Person,
    at: datetime,
    spare: Booking | None = None,
) -> list[Effect]:
    change = Change(
        booking=booking, at=at, starts_at=span.start, ends_at=span.end, spare=spare
    )
    return effects_of(change, by)


def _at(booking: Booking, span: TimeSpan) -> Booking:
    """Return a session as it would be at other times, not to be saved."""
    moved = Booking.objects.select_related("place", "job").get(pk=booking.pk)
    moved.starts_at, moved.ends_at = span.start, span.end
    return moved


def _words(booking: Booking) -> SessionWords:
    home = StudioProfile.load().zone
    return session_words(booking, at=timezone.now(), home=home)


def _booking(booking_id: int) -> Booking:
    found: Any = Booking.objects.select_related("job__client", "place")
    booking: Booking = get_object_or_404(found, pk=booking_id)
    return booking
