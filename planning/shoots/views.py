"""Pages of the light plan."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_POST, require_safe

from jobs.bookings.models import Booking
from planning.shoots.choices import SkyWord
from planning.shoots.forms import SkyForm
from planning.shoots.models import SetUp, ShootPlan
from planning.shoots.operations import (
    choose_sky,
    copy_set_up,
    move_set_up,
    remove_set_up,
    start_plan,
)
from planning.shoots.queries import planned_shoot
from planning.shoots.shifted import shown_shifts
from planning.shoots.shown import shown_plan
from planning.weather.queries import shown_weather
from studio.http import staff
from studio.people.access import may


def booking_or_404(booking_id: int) -> Booking:
    """Return a booking with its job and place, or answer that there is none."""
    bookings = Booking.objects.select_related("job__client", "place")
    return get_object_or_404(bookings, pk=booking_id)


def set_up_or_404(set_up_id: int) -> SetUp:
    """Return a set-up with its plan, or answer that there is none."""
    rows = SetUp.objects.select_related(
        "plan__booking__place", "plan__booking__job__client"
    )
    return get_object_or_404(rows, pk=set_up_id)


@may("plan.see")
@require_safe
def plan(request: HttpRequest, booking_id: int) -> HttpResponse:
    """Show a booking's light plan, for its own sky or for one that is tried out."""
    booking = booking_or_404(booking_id)
    form = SkyForm(request.GET or None)
    tried = SkyWord(form.cleaned_data["sky"]) if form.is_valid() else None
    rows = ShootPlan.objects.filter(booking=booking)
    planned = SkyWord(rows.values_list("sky", flat=True).first() or SkyWord.CLEAR)
    shoot = planned_shoot(booking, sky=tried)
    context = {
        "booking": booking,
        "job": booking.job,
        "plan": shown_plan(shoot),
        "planned_sky": planned.label,
        "tried": tried or "",
        "skies": SkyWord.choices,
        "shifts": shown_shifts(shoot),
        "weather": shown_weather(booking),
    }
    return render(request, "planning/shoots/plan.html", context)


@may("plan.see")
@require_safe
def plan_table(request: HttpRequest, booking_id: int) -> HttpResponse:
    """Show the light of a plan as a table, quarter by quarter."""
    booking = booking_or_404(booking_id)
    shown = shown_plan(planned_shoot(booking))
    context = {"booking": booking, "job": booking.job, "plan": shown}
    return render(request, "planning/shoots/table.html", context)


@may("plan.edit")
@require_POST
def sky_choose(request: HttpRequest, booking_id: int) -> HttpResponse:
    """Plan for another sky."""
    booking = booking_or_404(booking_id)
    form = SkyForm(request.POST)
    by, at = staff(request).user, timezone.now()
    if form.is_valid():
        made = start_plan(booking=booking, by=by, at=at)
        sky = SkyWord(form.cleaned_data["sky"])
        choose_sky(plan_id=made.pk, sky=sky, by=by, at=at)
        messages.success(request, f"Planned for a sky that is {sky.label}.")
    return redirect("planning:plan", booking.pk)


@may("plan.edit")
@require_POST
def set_up_act(request: HttpRequest, set_up_id: int, act: str) -> HttpResponse:
    """Move a set-up up or down, copy it, or take it out."""
    row = set_up_or_404(set_up_id)
    by, at = staff(request).user, timezone.now()
    if act in ("up", "down"):
        places = 1 if act == "down" else -1
        move_set_up(set_up_id=row.pk, places=places, by=by, at=at)
    elif act == "copy":
        copy_set_up(
            set_up_id=row.pk, plan_id=row.plan_id, starts_at=row.ends_at, by=by, at=at
        )
    else:
        remove_set_up(set_up_id=row.pk, by=by, at=at)
        messages.success(request, f"“{row.name}” is out of the plan.")
    return redirect("planning:plan", row.plan.booking_id)
