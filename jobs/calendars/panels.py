"""What calendars show on the job's page and on Today."""

from __future__ import annotations

from datetime import datetime, timedelta
from itertools import groupby

from django.template.loader import render_to_string
from django.urls import reverse
from django.utils.safestring import SafeString

from jobs.bookings.shared import session_on
from jobs.calendars.invitations import guest_rows, stale_invitations
from jobs.calendars.models import BusyCalendar
from jobs.calendars.telling import may_invite
from jobs.jobs.models import Job
from studio.http import StaffRequest
from studio.panels import TodayItem, on_today, show_on
from studio.people.models import Person
from studio.profile.models import StudioProfile
from studio.wording import day_short

FAILING_FOR = timedelta(days=1)


@show_on("job.side", action="booking.invite", order=27)
def invitations_panel(request: StaffRequest, job: Job) -> SafeString | str:
    """Show who has the session in their calendar, and in which version."""
    booking = session_on(request, job) or job.bookings.order_by("starts_at").last()
    if booking is None:
        return ""
    rows = [row for row in guest_rows(booking) if row.has]
    if not rows and not may_invite(booking):
        return ""
    context = {
        "booking": booking,
        "rows": rows,
        "stale": sum(row.has == "older" for row in rows),
        "may_invite": may_invite(booking),
    }
    return render_to_string("jobs/calendars/_invitations.html", context, request)


@on_today(action="booking.invite")
def invitations_out_of_date(person: Person, at: datetime) -> list[TodayItem]:
    """Give the sessions that changed since they were sent to calendars."""
    items = []
    for booking, group in groupby(stale_invitations(at), key=lambda row: row.booking):
        names = [row.name or row.address for row in group]
        more = f" and {len(names) - 1} more" if len(names) > 1 else ""
        items.append(
            TodayItem(
                group="today",
                title=f"Tell {names[0]}{more} that {booking.job.title} changed",
                reason="Their calendars hold the session as it was before.",
                url=reverse("jobs:invite", args=[booking.pk]),
                verb="Send the change",
                icon="calendar",
                due_on=booking.local_start.date(),
            )
        )
    return items


@on_today(action="calendar.own")
def calendars_not_read(person: Person, at: datetime) -> list[TodayItem]:
    """Give the person's calendars that could not be read for a day."""
    zone = StudioProfile.load().zone
    failing = BusyCalendar.objects.filter(
        person=person, failing_since__lt=at - FAILING_FOR
    )
    return [
        TodayItem(
            group="soon",
            title=f"Look after your calendar “{one.name}”",
            reason="Your busy times are as they were on "
            f"{day_short((one.read_at or at).astimezone(zone))}. {one.fault}",
            url=reverse("jobs:calendar"),
            verb="Open calendar",
            icon="calendar",
        )
        for one in failing
    ]
