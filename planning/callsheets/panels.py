"""What the call sheet shows on the job's page and on Today."""

from __future__ import annotations

from datetime import datetime, timedelta

from django.template.loader import render_to_string
from django.urls import reverse
from django.utils.safestring import SafeString

from jobs.bookings.models import Booking
from jobs.bookings.shared import session_on
from jobs.jobs.models import Job
from planning.callsheets.models import CallSheet
from planning.callsheets.queries import last_call_sheet, past_of, versions_of
from planning.callsheets.receivers import deliveries_of
from studio.http import StaffRequest
from studio.panels import TodayItem, on_today, show_on
from studio.people.models import Person
from studio.wording import day_short

AHEAD = timedelta(days=4)


@show_on("job.acts", action="call_sheet.make", order=40)
def call_sheet_button(request: StaffRequest, job: Job) -> SafeString | str:
    """Make the call sheet of the job's session, or lead to the one there is."""
    booking = session_on(request, job)
    if booking is None:
        return ""
    last = next(iter(_sheets_on(request, booking)), None)
    context = {"booking": booking, "last": last, "is_main": booking.is_holding}
    return render_to_string("planning/callsheets/_act.html", context, request)


@show_on("job.side", action="plan.see", order=30)
def call_sheet_panel(request: StaffRequest, job: Job) -> SafeString | str:
    """Show who has which version, who has read it, and what it changed."""
    booking = session_on(request, job)
    sheets = _sheets_on(request, booking) if booking else []
    sent = next((one for one in sheets if one.sent_at), None)
    if booking is None or sent is None:
        return ""
    context = {
        "booking": booking,
        "newest": past_of(sheets)[0],
        "sent": sent,
        "deliveries": deliveries_of(booking, sent),
    }
    return render_to_string("planning/callsheets/_panel.html", context, request)


def _sheets_on(request: StaffRequest, booking: Booking) -> list[CallSheet]:
    """Return every version, the newest first; the parts of one page ask once."""
    kept: dict[int, list[CallSheet]] = request.__dict__.setdefault("sheets", {})
    if booking.pk not in kept:
        kept[booking.pk] = versions_of(booking)
    return kept[booking.pk]


@on_today(action="call_sheet.send")
def call_sheets_to_send(person: Person, at: datetime) -> list[TodayItem]:
    """Give the sessions of the next days whose last call sheet has not gone out."""
    coming = (
        Booking.objects.holding()
        .chosen()
        .filter(starts_at__gt=at, starts_at__lt=at + AHEAD)
    )
    items = []
    for booking in coming.select_related("place", "job__client"):
        last = last_call_sheet(booking)
        if last is None or last.sent_at is None:
            items.append(_to_send(booking, at, made=last is not None))
    return items


def _to_send(booking: Booking, at: datetime, *, made: bool) -> TodayItem:
    day = booking.local_start
    days = (day.date() - at.astimezone(booking.place.zone).date()).days
    when = {0: "Today", 1: "Tomorrow"}.get(days, day_short(day))
    state = "It is made and waits." if made else "It is not made yet."
    return TodayItem(
        group="today" if days <= 1 else "soon",
        title=f"Send the call sheet for {booking.job.title}",
        reason=f"{when}, {day:%H:%M}. {state}",
        url=reverse("planning:call_sheet", args=[booking.pk]),
        verb="Open call sheet",
        icon="file",
        due_on=day.date() - timedelta(days=1),
    )
