"""What the light plan shows on the job's page and on Today."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import Any

from django.template.loader import render_to_string
from django.urls import reverse
from django.utils.safestring import SafeString

from jobs.bookings.models import Booking
from jobs.bookings.shared import session_on
from jobs.jobs.models import Job
from planning.shoots.choices import SkyWord
from planning.shoots.planned import PlannedShoot, Weight
from planning.shoots.queries import planned_shoot
from planning.shoots.shown import ShownPlan, shown_plan
from studio.http import StaffRequest
from studio.panels import TodayItem, on_today, show_on
from studio.people.models import Person
from studio.wording import day_short

AHEAD = timedelta(days=14)


@show_on("job.wide", action="plan.see", order=20)
def light_panel(request: StaffRequest, job: Job) -> SafeString | str:
    """Show the light through the job's session as a chart."""
    return _drawn("planning/shoots/_light_panel.html", request, job)


@show_on("job.main", action="plan.see", order=20)
def set_ups_panel(request: StaffRequest, job: Job) -> SafeString | str:
    """Show the set-ups of the job's session, and the sun along the skyline."""
    return _drawn("planning/shoots/_set_ups_panel.html", request, job)


@show_on("job.side", action="plan.see", order=20)
def cautions_panel(request: StaffRequest, job: Job) -> SafeString | str:
    """Show what may go wrong in the job's session."""
    return _drawn("planning/shoots/_cautions_panel.html", request, job)


def _drawn(template: str, request: StaffRequest, job: Job) -> SafeString | str:
    context = _context(request, job)
    return render_to_string(template, context, request) if context else ""


def _context(request: StaffRequest, job: Job) -> dict[str, Any]:
    shoot = shoot_of(request, job)
    if shoot is None:
        return {}
    kept: dict[int, ShownPlan] = request.__dict__.setdefault("shown_plans", {})
    if job.pk not in kept:
        kept[job.pk] = shown_plan(shoot)
    return {
        "job": job,
        "booking": session_on(request, job),
        "plan": kept[job.pk],
        "skies": SkyWord.choices,
        "may_edit": request.user.may("plan.edit"),
    }


def shoot_of(request: StaffRequest, job: Job) -> PlannedShoot | None:
    """Return the plan of that session, worked out once for all panels of a page."""
    booking = session_on(request, job)
    if booking is None:
        return None
    kept: dict[int, PlannedShoot] = request.__dict__.setdefault("shoots", {})
    if job.pk not in kept:
        kept[job.pk] = planned_shoot(booking)
    return kept[job.pk]


@on_today(action="plan.edit")
def plans_to_mend(person: Person, at: datetime) -> list[TodayItem]:
    """Give the sessions soon to come whose plan is missing or at risk."""
    coming = (
        Booking.objects.holding()
        .chosen()
        .filter(starts_at__gt=at, starts_at__lt=at + AHEAD)
    )
    items: list[TodayItem] = []
    for booking in coming.select_related("place", "job__client"):
        items += _to_mend(booking)
    return items


def _to_mend(booking: Booking) -> list[TodayItem]:
    shoot = planned_shoot(booking)
    url = reverse("planning:plan", args=[booking.pk])
    day = booking.local_start
    when = day_short(day)
    if not shoot.set_ups:
        return [
            TodayItem(
                group="soon",
                title=f"Plan the light for {booking.job.title}",
                reason=f"{when}, {booking.place.name[:60]}. No set-ups yet.",
                url=url,
                verb="Open plan",
                icon="sun-low",
                due_on=day.date(),
            )
        ]
    risks = [one for one in shoot.cautions if one.weight is Weight.RISK]
    return (
        [
            TodayItem(
                group="soon",
                title=f"Look at the plan for {booking.job.title}",
                reason=f"{when}. {risks[0].title}.",
                url=url,
                verb="Open plan",
                icon="sun-low",
                due_on=day.date(),
            )
        ]
        if risks
        else []
    )
