"""What the checklist shows on the job's page and on Today."""

from __future__ import annotations

from datetime import datetime, timedelta

from django.template.loader import render_to_string
from django.urls import reverse
from django.utils.safestring import SafeString

from jobs.bookings.models import Booking
from jobs.bookings.shared import session_on
from jobs.jobs.models import Job
from planning.checklists.queries import Checklist, checklist_of
from planning.shoots.panels import shoot_of
from studio.http import StaffRequest
from studio.panels import TodayItem, on_today, show_on
from studio.people.models import Person
from studio.wording import day_short

AHEAD = timedelta(days=3)


@show_on("job.acts", action="checklist.tick", order=30)
def checklist_button(request: StaffRequest, job: Job) -> SafeString | str:
    """Lead to the checklist of the job's session."""
    booking = session_on(request, job)
    if booking is None:
        return ""
    context = {"booking": booking}
    return render_to_string("planning/checklists/_act.html", context, request)


@show_on("job.side", action="checklist.tick", order=30)
def before_panel(request: StaffRequest, job: Job) -> SafeString | str:
    """Show what is to be done before the day, and how far the packing is."""
    booking = session_on(request, job)
    if booking is None:
        return ""
    context = {
        "booking": booking,
        "list": checklist_of(booking, shoot_of(request, job), whereabouts=False),
    }
    return render_to_string("planning/checklists/_before_panel.html", context, request)


@show_on("today.session", action="checklist.tick", order=30)
def packing_words(request: StaffRequest, booking: Booking) -> SafeString | str:
    """Say how far the packing for a session of today is."""
    held = checklist_of(booking, whereabouts=False)
    if not held.packing:
        return ""
    if held.packed == len(held.packing):
        return "Kit packed. "
    return f"{held.packed} of {len(held.packing)} packed. "


@on_today(action="checklist.tick")
def kit_to_pack(person: Person, at: datetime) -> list[TodayItem]:
    """Give the sessions of the next days whose list is not ticked off."""
    coming = (
        Booking.objects.holding()
        .chosen()
        .filter(ends_at__gt=at, starts_at__lt=at + AHEAD)
    )
    items = []
    for booking in coming.select_related("place", "job__client"):
        held = checklist_of(booking, whereabouts=False)
        if held.done < held.total:
            items.append(_to_pack(booking, held, at))
    return items


def _to_pack(booking: Booking, held: Checklist, at: datetime) -> TodayItem:
    day = booking.local_start
    days = (day.date() - at.astimezone(booking.place.zone).date()).days
    when = {0: "Today", 1: "Tomorrow"}.get(days, day_short(day))
    return TodayItem(
        group="today" if days <= 1 else "soon",
        title=f"Pack kit for {booking.job.title}",
        reason=f"{when}, {day:%H:%M}. {held.open_words}.",
        url=reverse("planning:checklist", args=[booking.pk]),
        verb="Open checklist",
        icon="box",
        due_on=day.date() - timedelta(days=1),
    )
