"""Pages of the library of set-ups, and bringing one into a plan."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import (
    require_http_methods,
    require_POST,
    require_safe,
)

from jobs.bookings.models import Booking
from planning.patterns.forms import BringForm, KeepForm, LibrarySearchForm, RenameForm
from planning.patterns.models import Anchor, SavedSetUp
from planning.patterns.operations import (
    bring_in,
    drop_saved,
    keep_set_up,
    rename_saved,
)
from planning.patterns.queries import (
    Tried,
    earlier_set_ups,
    library,
    next_start,
    start_in,
    try_earlier,
    try_saved,
)
from planning.shoots.instants import instant_in
from planning.shoots.models import SetUp
from planning.shoots.shown import shown_set_up
from planning.shoots.views import booking_or_404, set_up_or_404
from studio.errors import DomainError
from studio.http import staff
from studio.people.access import may

Try = Callable[[datetime, bool], Tried]


@may("plan.see")
@require_safe
def set_up_library(request: HttpRequest) -> HttpResponse:
    """List the kept set-ups."""
    words = LibrarySearchForm(request.GET).words
    context = {"saved": library(words), "words": words}
    return render(request, "planning/patterns/library.html", context)


@may("plan.edit")
@require_http_methods(["GET", "POST"])
def set_up_keep(request: HttpRequest, set_up_id: int) -> HttpResponse:
    """Keep a set-up in the library."""
    row = set_up_or_404(set_up_id)
    data = request.POST if request.method == "POST" else None
    form = KeepForm(data, initial={"name": row.name, "anchor": Anchor.SUNSET})
    if form.is_valid():
        try:
            saved = keep_set_up(
                set_up=row,
                name=form.cleaned_data["name"],
                anchor=Anchor(form.cleaned_data["anchor"]),
                by=staff(request).user,
                at=timezone.now(),
            )
        except DomainError as refusal:
            form.add_error(None, str(refusal))
        else:
            messages.success(request, f"“{saved.name}” is in the library.")
            return redirect("planning:plan", row.plan.booking_id)
    return _form_page(
        request,
        form,
        title="Keep in the library",
        verb="Keep it",
        back=reverse("planning:set_up_edit", args=[row.pk]),
    )


@may("plan.edit")
@require_http_methods(["GET", "POST"])
def saved_rename(request: HttpRequest, saved_id: int) -> HttpResponse:
    """Give a kept set-up another name."""
    saved = get_object_or_404(SavedSetUp, pk=saved_id)
    data = request.POST if request.method == "POST" else None
    form = RenameForm(data, initial={"name": saved.name})
    if form.is_valid():
        name, by, at = form.cleaned_data["name"], staff(request).user, timezone.now()
        try:
            rename_saved(saved_id=saved.pk, name=name, by=by, at=at)
        except DomainError as refusal:
            form.add_error(None, str(refusal))
        else:
            messages.success(request, f"It is called “{name}” now.")
            return redirect("planning:set_up_library")
    back = reverse("planning:set_up_library")
    return _form_page(request, form, title="Rename a set-up", verb="Rename", back=back)


@may("plan.edit")
@require_POST
def saved_drop(request: HttpRequest, saved_id: int) -> HttpResponse:
    """Take a kept set-up out of the library."""
    saved = get_object_or_404(SavedSetUp, pk=saved_id)
    drop_saved(saved_id=saved.pk, by=staff(request).user, at=timezone.now())
    messages.success(request, f"“{saved.name}” is out of the library.")
    return redirect("planning:set_up_library")


@may("plan.edit")
@require_safe
def set_up_find(request: HttpRequest, booking_id: int) -> HttpResponse:
    """Find a set-up in the library or on an earlier job, for a session's plan."""
    booking = booking_or_404(booking_id)
    words = LibrarySearchForm(request.GET).words
    context = {
        "booking": booking,
        "job": booking.job,
        "words": words,
        "saved": [(one, start_in(one, booking)) for one in library(words)],
        "earlier": earlier_set_ups(booking, words),
        "zone": booking.place.time_zone,
    }
    return render(request, "planning/patterns/find.html", context)


@may("plan.edit")
@require_http_methods(["GET", "POST"])
def saved_bring(request: HttpRequest, booking_id: int, saved_id: int) -> HttpResponse:
    """Put a kept set-up into a session's plan, seen beforehand."""
    booking = booking_or_404(booking_id)
    saved = get_object_or_404(SavedSetUp, pk=saved_id)

    def tried(starts_at: datetime, keep_sun: bool) -> Tried:
        return try_saved(saved, booking, starts_at=starts_at, keep_sun=keep_sun)

    return _bring(request, booking, tried, start_in(saved, booking))


@may("plan.edit")
@require_http_methods(["GET", "POST"])
def earlier_bring(
    request: HttpRequest, booking_id: int, set_up_id: int
) -> HttpResponse:
    """Copy a set-up of an earlier job into a session's plan, seen beforehand."""
    booking = booking_or_404(booking_id)
    source: SetUp = set_up_or_404(set_up_id)

    def tried(starts_at: datetime, keep_sun: bool) -> Tried:
        return try_earlier(source, booking, starts_at=starts_at, keep_sun=keep_sun)

    return _bring(request, booking, tried, next_start(booking))


def _bring(
    request: HttpRequest, booking: Booking, tried: Try, start: datetime
) -> HttpResponse:
    initial = {"start": start.astimezone(booking.place.zone).time(), "keep_sun": True}
    data = request.POST if request.method == "POST" else None
    form = BringForm(data, initial=initial)
    keep_sun = True
    if form.is_valid():
        start = instant_in(booking, form.cleaned_data["start"])
        keep_sun = form.cleaned_data["keep_sun"]
    seen = tried(start, keep_sun)
    if form.is_valid() and "look" not in request.POST:
        bring_in(tried=seen, booking=booking, by=staff(request).user, at=timezone.now())
        messages.success(request, f"“{seen.row.name}” is in the plan.")
        return redirect("planning:plan", booking.pk)
    context = {
        "booking": booking,
        "job": booking.job,
        "form": form,
        "one": shown_set_up(seen.shoot.set_ups[-1]),
        "number": len(seen.shoot.set_ups),
        "cautions": seen.shoot.cautions,
        "missing": seen.thawed.missing,
        "zone": booking.place.time_zone,
    }
    status = 422 if form.is_bound and not form.is_valid() else 200
    return render(request, "planning/patterns/bring.html", context, status=status)


def _form_page(
    request: HttpRequest,
    form: KeepForm | RenameForm,
    *,
    title: str,
    verb: str,
    back: str,
) -> HttpResponse:
    context = {"form": form, "title": title, "verb": verb, "back": back}
    status = 422 if form.is_bound else 200
    return render(request, "planning/patterns/form.html", context, status=status)
