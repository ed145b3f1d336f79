"""What the job's page shows of kit that is to come back, or that is out of order."""

from __future__ import annotations

from datetime import datetime

from django.template.loader import render_to_string
from django.urls import reverse
from django.utils import timezone
from django.utils.safestring import SafeString

from jobs.bookings.shared import session_on
from jobs.bookings.states import BookingStatus
from jobs.jobs.models import Job
from jobs.returns.queries import still_out, troubles_of
from studio.http import StaffRequest
from studio.panels import TodayItem, on_today, show_on
from studio.people.models import Person

OUT = {BookingStatus.CONFIRMED.value, BookingStatus.COMPLETED.value}


@on_today(action="checklist.tick")
def kit_to_tick_back(person: Person, at: datetime) -> list[TodayItem]:
    """Give the sessions of these weeks whose kit is not ticked back yet."""
    return [
        TodayItem(
            group="today",
            title=f"Tick the kit of {out.booking.job.title} back",
            reason=(
                f"{out.open} of {out.total} not ticked. It ended on "
                f"{out.booking.local_end:%a} {out.booking.local_end.day} "
                f"{out.booking.local_end:%b}."
            ),
            url=reverse("jobs:kit_back", args=[out.booking.pk]),
            verb="Tick it back",
            icon="box",
            due_on=out.booking.local_end.date(),
        )
        for out in still_out(at=at)
    ]


@show_on("job.side", action="checklist.tick", order=26)
def kit_state(request: StaffRequest, job: Job) -> SafeString | str:
    """Warn of kit that is missing or damaged; lead to the list for what went out."""
    booking = session_on(request, job)
    if booking is None or booking.status == BookingStatus.CANCELLED:
        return ""
    has_begun = booking.starts_at <= timezone.now()
    context = {
        "booking": booking,
        "troubles": [] if has_begun else troubles_of(booking),
        "went_out": has_begun and booking.status in OUT,
    }
    if not (context["troubles"] or context["went_out"]):
        return ""
    return render_to_string("jobs/returns/_kit_state.html", context, request)
