"""What the job's page shows of sittings."""

from __future__ import annotations

from django.template.loader import render_to_string
from django.utils.safestring import SafeString

from jobs.bookings.shared import session_on
from jobs.bookings.states import SETTLED
from jobs.jobs.models import Job
from jobs.slotdays.letters import when_words
from jobs.slotdays.models import SlotDay
from jobs.slotdays.queries import how_many, rows_of
from studio.http import StaffRequest
from studio.panels import show_on


@show_on("job.main", action="slot_day.edit", order=15)
def times_of_the_day(request: StaffRequest, job: Job) -> SafeString | str:
    """Show the times of a slot day in their order, with who has them."""
    day = _day(request, job)
    if day is None:
        return ""
    rows = rows_of(day)
    context = {"day": day, "rows": rows, "how_many": how_many(rows)}
    return render_to_string("jobs/slotdays/_panel.html", context, request)


@show_on("job.side", action="slot_day.edit", order=24)
def sittings(request: StaffRequest, job: Job) -> SafeString | str:
    """Tell which time of a slot day a job is for, or offer to make a session one."""
    own = getattr(job, "sitting", None)
    if own is not None:
        context = {"sitting": own, "when": when_words(own)}
        return render_to_string("jobs/slotdays/_own.html", context, request)
    booking = session_on(request, job)
    if booking is None or booking.status in SETTLED or _day(request, job):
        return ""
    return render_to_string("jobs/slotdays/_begin.html", {"booking": booking}, request)


def _day(request: StaffRequest, job: Job) -> SlotDay | None:
    booking = session_on(request, job)
    day: SlotDay | None = getattr(booking, "slot_day", None)
    if day is not None and booking is not None:
        day.booking = booking
    return day
