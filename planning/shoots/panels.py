"""What the light plan shows on the job's page and on Today."""

from __future__ import annotations

from datetime import datetime, timedelta

from django.template.loader import render_to_string
from django.urls import reverse
from django.utils.safestring import SafeString

from jobs.bookings.models import Booking
from jobs.jobs.models import Job
from planning.shoots.choices import SkyWord
from planning.shoots.planned import Weight
from planning.shoots.queries import planned_shoot, session_of
from planning.shoots.shown import shown_plan
from studio.http import StaffRequest
from studio.panels import TodayItem, on_today, show_on
from studio.people.models import Person

AHEAD = timedelta(days=14)


@show_on("job.main", action="plan.see", order=20)
def light_panel(request: StaffRequest, job: Job) -> SafeString | str:
    """Show the light plan of the job's session: chart, set-ups, skyline."""
    booking = session_of(job)
    if booking is None:
        return ""
    context = {
        "job": job,
        "booking": booking,
        "plan": shown_plan(planned_shoot(booking)),
        "skies": SkyWord.choices,
        "may_edit": request.user.may("plan.edit"),
    }
    return render_to_string("planning/shoots/_job_panel.html", context, request)


@show_on("job.side", action="plan.see", order=20)
def cautions_panel(request: StaffRequest, job: Job) -> SafeString | str:
    """Show what may go wrong in the job's session."""
    booking = session_of(job)
    if booking is None:
        return ""
    context = {"plan": shown_plan(planned_shoot(booking))}
    return render_to_string("planning/shoots/_cautions_panel.html", context, request)


@on_today(action="plan.edit")
def plans_to_mend(person: Person, at: datetime) -> list[TodayItem]:
    """Give the sessions soon to come whose plan is missing or at risk."""
    coming = Booking.objects.holding().filter(
        starts_at__gt=at, starts_at__lt=at + AHEAD
    )
    items: list[TodayItem] = []
    for booking in coming.select_related("place", "job__client"):
        items += _to_mend(booking)
    return items


def _to_mend(booking: Booking) -> list[TodayItem]:
    shoot = planned_shoot(booking)
    url = reverse("planning:plan", args=[booking.pk])
    day = booking.local_start
    when = f"{day:%a} {day.day} {day:%b}"
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
