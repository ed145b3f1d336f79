"""Pages of the light plan."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import (
    require_http_methods,
    require_POST,
    require_safe,
)

from jobs.bookings.models import Booking
from jobs.kits.models import KitCategory, KitItem
from planning.shoots.choices import Light, SkyWord
from planning.shoots.forms import SetUpForm, SkyForm, initial_of
from planning.shoots.models import SetUp, ShootPlan
from planning.shoots.operations import (
    add_set_up,
    change_set_up,
    choose_sky,
    copy_set_up,
    move_set_up,
    remove_set_up,
    start_plan,
)
from planning.shoots.queries import planned_shoot
from planning.shoots.shown import shown_plan
from studio.errors import DomainError
from studio.http import staff
from studio.people.access import may

ACTS = (
    ("up", "Move up"),
    ("down", "Move down"),
    ("copy", "Copy, to start when it ends"),
    ("remove", "Take it out"),
)


def _booking(booking_id: int) -> Booking:
    bookings = Booking.objects.select_related("job__client", "place")
    return get_object_or_404(bookings, pk=booking_id)


def _set_up(set_up_id: int) -> SetUp:
    rows = SetUp.objects.select_related("plan__booking__place", "plan__booking__job")
    return get_object_or_404(rows, pk=set_up_id)


@may("plan.see")
@require_safe
def plan(request: HttpRequest, booking_id: int) -> HttpResponse:
    """Show a booking's light plan, for its own sky or for one that is tried out."""
    booking = _booking(booking_id)
    form = SkyForm(request.GET or None)
    tried = SkyWord(form.cleaned_data["sky"]) if form.is_valid() else None
    shoot = planned_shoot(booking, sky=tried)
    context = {
        "booking": booking,
        "job": booking.job,
        "plan": shown_plan(shoot),
        "planned_sky": planned_shoot(booking).sky_words,
        "tried": tried or "",
        "skies": SkyWord.choices,
    }
    return render(request, "planning/shoots/plan.html", context)


@may("plan.see")
@require_safe
def plan_table(request: HttpRequest, booking_id: int) -> HttpResponse:
    """Show the light of a plan as a table, quarter by quarter."""
    booking = _booking(booking_id)
    shown = shown_plan(planned_shoot(booking))
    context = {"booking": booking, "job": booking.job, "plan": shown}
    return render(request, "planning/shoots/table.html", context)


@may("plan.edit")
@require_POST
def sky_choose(request: HttpRequest, booking_id: int) -> HttpResponse:
    """Plan for another sky."""
    booking = _booking(booking_id)
    form = SkyForm(request.POST)
    by, at = staff(request).user, timezone.now()
    if form.is_valid():
        made = start_plan(booking=booking, by=by, at=at)
        sky = SkyWord(form.cleaned_data["sky"])
        choose_sky(plan_id=made.pk, sky=sky, by=by, at=at)
        messages.success(request, f"Planned for a sky that is {sky.label}.")
    return redirect("planning:plan", booking.pk)


@may("plan.edit")
@require_http_methods(["GET", "POST"])
def set_up_new(request: HttpRequest, booking_id: int) -> HttpResponse:
    """Add a set-up at the end of a plan."""
    booking = _booking(booking_id)
    data = request.POST if request.method == "POST" else None
    form = SetUpForm(data, booking=booking, initial=_first_guess(booking))
    if form.is_valid():
        by, at = staff(request).user, timezone.now()
        made = start_plan(booking=booking, by=by, at=at)
        add_set_up(plan_id=made.pk, details=form.details(), by=by, at=at)
        messages.success(request, f"“{form.cleaned_data['name']}” is in the plan.")
        return redirect("planning:plan", booking.pk)
    return _editor(request, booking, form, None)


@may("plan.edit")
@require_http_methods(["GET", "POST"])
def set_up_edit(request: HttpRequest, set_up_id: int) -> HttpResponse:
    """Change a set-up beside the light that it stands in."""
    row = _set_up(set_up_id)
    booking = row.plan.booking
    if request.method == "GET":
        initial = initial_of(row, booking.place.zone)
        form = SetUpForm(booking=booking, initial=initial)
        return _editor(request, booking, form, row)
    form = SetUpForm(request.POST, booking=booking)
    if form.is_valid():
        try:
            change_set_up(
                set_up_id=row.pk,
                details=form.details(),
                by=staff(request).user,
                at=timezone.now(),
                version=_version(request),
            )
        except DomainError as refusal:
            form.add_error(None, str(refusal))
        else:
            messages.success(request, f"“{form.cleaned_data['name']}” is changed.")
            return redirect("planning:plan", booking.pk)
    return _editor(request, booking, form, row)


@may("plan.edit")
@require_POST
def set_up_act(request: HttpRequest, set_up_id: int, act: str) -> HttpResponse:
    """Move a set-up up or down, copy it, or take it out."""
    row = _set_up(set_up_id)
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


def _editor(
    request: HttpRequest, booking: Booking, form: SetUpForm, row: SetUp | None
) -> HttpResponse:
    shown = shown_plan(planned_shoot(booking))
    context = {
        "booking": booking,
        "job": booking.job,
        "form": form,
        "set_up": row,
        "plan": shown,
        "version": row.plan.version if row else 0,
        "acts": ACTS,
    }
    status = 422 if form.is_bound else 200
    return render(request, "planning/shoots/set_up.html", context, status=status)


def _version(request: HttpRequest) -> int | None:
    given = request.POST.get("version", "")
    return int(given) if given.isascii() and given.isdigit() else None


def _first_guess(booking: Booking) -> dict[str, object]:
    held = KitItem.objects.filter(reservations__booking=booking)
    camera = held.of(KitCategory.CAMERA).first()
    lens = held.of(KitCategory.LENS).first()
    plan_row = ShootPlan.objects.filter(booking=booking).first()
    last = plan_row.set_ups.order_by("-position").first() if plan_row else None
    start = last.ends_at if last else booking.starts_at
    return {
        "start": start.astimezone(booking.place.zone).time(),
        "minutes": 30,
        "light": Light.OPEN_SKY,
        "heading": last.camera_heading_deg if last else 0,
        "people": last.people if last else 1,
        "depth_m": last.depth_m if last else 0.3,
        "distance_m": last.distance_m if last else 3,
        "movement": "standing",
        "support": "handheld",
        "camera": camera,
        "lens": lens,
        "focal_length_mm": lens.focal_length_mm if lens else 85,
    }
