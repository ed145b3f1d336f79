"""What sessions show on Today: the strip of the day, and those that come next."""

from __future__ import annotations

from datetime import datetime, timedelta

from django.template.loader import render_to_string
from django.urls import reverse
from django.utils.safestring import SafeString

from jobs.bookings.coming import next_sessions, sessions_of_today
from jobs.bookings.models import Booking
from jobs.bookings.states import BookingStatus
from studio.http import StaffRequest
from studio.panels import TodayItem, draw_panels, on_today, show_on
from studio.people.models import Person

SHOT_SINCE = timedelta(days=120)


@show_on("today.top", action="booking.see", order=10)
def todays_sessions(request: StaffRequest, at: datetime) -> SafeString | str:
    """Show each session of today on its day's light, with now marked on it."""
    rows = [
        (shown, draw_panels("today.session", request, shown.booking))
        for shown in sessions_of_today(at)
    ]
    if not rows:
        return ""
    return render_to_string("jobs/bookings/_today.html", {"rows": rows}, request)


@show_on("today.side", action="booking.see", order=10)
def coming_sessions(request: StaffRequest, at: datetime) -> SafeString | str:
    """Show the next sessions, each with its day's light."""
    context = {"rows": next_sessions(at)}
    return render_to_string("jobs/bookings/_next.html", context, request)


@on_today(action="booking.edit")
def sessions_to_note(person: Person, at: datetime) -> list[TodayItem]:
    """Give the firm sessions that are over, and that nobody noted as shot."""
    over = Booking.objects.filter(
        status=BookingStatus.CONFIRMED, ends_at__lt=at, ends_at__gt=at - SHOT_SINCE
    )
    return [
        TodayItem(
            group="today",
            title=f"Note that {booking.job.title} was shot",
            reason=f"The session ended at {booking.local_end:%H:%M} on "
            f"{booking.local_end:%a} {booking.local_end.day} {booking.local_end:%b}.",
            url=reverse("jobs:job", args=[booking.job_id]),
            verb="Open job",
            icon="camera",
            due_on=booking.local_end.date(),
        )
        for booking in over.select_related("place", "job").order_by("ends_at")[:20]
    ]
