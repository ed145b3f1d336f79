"""What letters show on the job's page and on Today."""

from __future__ import annotations

from datetime import datetime

from django.template.loader import render_to_string
from django.urls import reverse
from django.utils import timezone
from django.utils.safestring import SafeString

from jobs.bookings.models import Booking
from jobs.bookings.shared import session_on
from jobs.bookings.states import BookingStatus
from jobs.jobs.models import Job
from jobs.letters.queries import due_letters, letters_of
from studio.http import StaffRequest
from studio.panels import TodayItem, on_today, show_on
from studio.people.models import Person
from studio.people.policy import Hat
from studio.wording import day_short

MOST = 10


@show_on("job.side", action="letter.send", order=28)
def letters_panel(request: StaffRequest, job: Job) -> SafeString | str:
    """Show the letters of the job's session: what went, and what comes when."""
    booking = session_on(request, job)
    fixed = (BookingStatus.CONFIRMED, BookingStatus.COMPLETED)
    if booking is None or booking.status not in fixed:
        return ""
    context = {"booking": booking, "rows": letters_of(booking, at=timezone.now())}
    return render_to_string("jobs/letters/_panel.html", context, request)


@on_today(action="letter.send", hat=Hat.OWNER)
def letters_due(person: Person, at: datetime) -> list[TodayItem]:
    """Give the letters whose time has come, and that wait to be looked at."""
    waiting = [due for due in due_letters(at=at) if not due.wording.by_itself]
    return [
        TodayItem(
            group="today",
            title=f"Send “{due.wording.kind.label}” to {due.booking.job.client}",
            reason=f"{due.booking.job.title}, {_when(due.booking)}",
            url=reverse(
                "jobs:letter", args=[due.booking.pk, due.wording.kind.value.lower()]
            ),
            verb="Look and send",
            icon="mail",
        )
        for due in waiting[:MOST]
    ]


def _when(booking: Booking) -> str:
    start = booking.local_start
    return f"{day_short(start)}, {start:%H:%M}"
