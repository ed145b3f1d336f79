"""What sessions show on the job's page and on Today."""

from __future__ import annotations

from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from django.template.loader import render_to_string
from django.urls import reverse
from django.utils import timezone
from django.utils.safestring import SafeString

from jobs.bookings.coming import next_sessions, sessions_of_today
from jobs.bookings.models import Booking
from jobs.bookings.queries import Gap, kept_things, session_gaps
from jobs.bookings.shared import session_on
from jobs.bookings.states import HOLDING, SETTLED, BookingStatus
from jobs.bookings.told_changes import change_lines, to_take_up
from jobs.jobs.models import Job
from studio.http import StaffRequest
from studio.panels import TodayItem, draw_panels, on_today, show_on
from studio.people.models import Person
from studio.profile.models import StudioProfile
from studio.wording import day_short

SHOT_SINCE = timedelta(days=120)
HOLD_ENDS_SOON = timedelta(days=3)
GAPS_AHEAD = timedelta(days=7)


@show_on("job.side", action="booking.see", order=25)
def session_panel(request: StaffRequest, job: Job) -> SafeString | str:
    """Show what the job's session keeps for itself, and who comes."""
    booking = session_on(request, job)
    if booking is None:
        return ""
    context = {
        "booking": booking,
        "kept": kept_things(booking),
        "may_edit": request.user.may("booking.edit")
        and booking.status not in SETTLED
        and job.is_open,
    }
    return render_to_string("jobs/bookings/_session.html", context, request)


@show_on("job.side", action="booking.see", order=26)
def changes_panel(request: StaffRequest, job: Job) -> SafeString | str:
    """Tell of moves and their reasons; offer to take back what was called off today."""
    lines = change_lines(job)
    booking = session_on(request, job)
    spare = _held_spare(booking) if booking and booking.status not in SETTLED else None
    if not lines and spare is None:
        return ""
    may_edit = bool(lines) and request.user.may("booking.edit")
    undo = to_take_up(job, at=timezone.now()) if may_edit else None
    context = {"lines": lines, "booking": booking, "spare": spare, "undo": undo}
    return render_to_string("jobs/bookings/_changes.html", context, request)


def _held_spare(booking: Booking) -> Booking | None:
    spare: Booking | None = getattr(booking, "spare", None)
    return spare if spare and spare.is_holding else None


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
            f"{day_short(booking.local_end)}.",
            url=reverse("jobs:job", args=[booking.job_id]),
            verb="Open job",
            icon="camera",
            due_on=booking.local_end.date(),
        )
        for booking in over.select_related("place", "job").order_by("ends_at")[:20]
    ]


@on_today(action="booking.edit")
def holds_that_end(person: Person, at: datetime) -> list[TodayItem]:
    """Give the pencilled sessions whose hold runs out in these days."""
    ending = Booking.objects.chosen().filter(
        status=BookingStatus.PENCILLED,
        held_until__gt=at,
        held_until__lt=at + HOLD_ENDS_SOON,
    )
    zone = StudioProfile.load().zone
    on = at.astimezone(zone).date()
    items = []
    for booking in ending.select_related("job__client", "place").order_by("held_until"):
        until = _last_moment(booking, zone)
        words = "tonight" if until.date() == on else f"on {until:%A}"
        items.append(
            TodayItem(
                group="today" if until.date() == on else "soon",
                title=f"Ask {booking.job.client} whether {_day(booking)} holds",
                reason=f"The hold on {booking.job.title} runs out {words}.",
                url=booking.get_absolute_url(),
                verb="Open job",
                icon="clock",
                due_on=until.date(),
            )
        )
    return items


@on_today(action="booking.edit")
def weather_calls(person: Person, at: datetime) -> list[TodayItem]:
    """Give the sessions with a spare date whose hour to decide comes within a day."""
    waiting = Booking.objects.filter(
        decide_by__lt=at + timedelta(days=1), spare__status__in=HOLDING
    ).exclude(status__in=SETTLED)
    return [
        _to_decide(booking, at)
        for booking in waiting.select_related("place", "job__client", "spare__place")
    ]


@on_today(action="booking.edit")
def sessions_with_gaps(person: Person, at: datetime) -> list[TodayItem]:
    """Give the sessions of the next days that something is missing from."""
    return [_to_complete(gap, at) for gap in session_gaps(at, ahead=GAPS_AHEAD)]


def _to_decide(booking: Booking, at: datetime) -> TodayItem:
    decide = (booking.decide_by or at).astimezone(booking.place.zone)
    spare = booking.spare
    return TodayItem(
        group="late" if decide < at else "today",
        title=f"Weather call: {booking.job.title}",
        reason=f"Decide by {decide:%H:%M} on {day_short(decide)}: "
        f"{_day(booking)} {booking.local_start:%H:%M}, or the spare date "
        f"{_day(spare)} {spare.local_start:%H:%M}. Ring {booking.job.client}.",
        url=reverse("jobs:weather_call", args=[booking.pk]),
        verb="Decide",
        icon="cloud",
        due_on=decide.date(),
    )


def _to_complete(gap: Gap, at: datetime) -> TodayItem:
    booking = gap.booking
    on = at.astimezone(booking.place.zone).date()
    start = booking.local_start
    return TodayItem(
        group="today" if start.date() <= on else "soon",
        title=f"Complete the session of {booking.job.title}",
        reason=f"{day_short(start)}, {start:%H:%M}. Still missing: {gap.words}.",
        url=gap.url,
        verb="Fill in",
        icon="list",
        due_on=start.date(),
    )


def _last_moment(booking: Booking, zone: ZoneInfo) -> datetime:
    """Return the last moment of a hold: one until midnight ends the day before."""
    until = booking.held_until or booking.starts_at
    return (until - timedelta(seconds=1)).astimezone(zone)


def _day(booking: Booking) -> str:
    return day_short(booking.local_start)
