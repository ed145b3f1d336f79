"""What the job's page shows of sittings, and what a move does to them."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import Any

from django.template.loader import render_to_string
from django.utils.safestring import SafeString

from jobs.bookings.shared import session_on
from jobs.bookings.states import SETTLED
from jobs.jobs.models import Job
from jobs.slotdays.letters import when_words
from jobs.slotdays.operations import shift_sittings
from jobs.slotdays.queries import day_of, how_many, sitting_of
from studio.effects import Change, Effect, Weight, follows_a_move, touches
from studio.http import StaffRequest
from studio.panels import show_on
from studio.people.models import Person


@show_on("job.side", action="slot_day.edit", order=24)
def sittings(request: StaffRequest, job: Job) -> SafeString | str:
    """Lead to the times of a slot day, or tell which time of one the job is for."""
    booking = session_on(request, job)
    if booking is None:
        own = sitting_of(job)
        if own is None:
            return ""
        context: dict[str, Any] = {"sitting": own, "when": when_words(own)}
        return render_to_string("jobs/slotdays/_own.html", context, request)
    day = day_of(booking)
    context = {
        "booking": booking,
        "day": day,
        "how_many": how_many(day) if day else "",
        "may_begin": booking.status not in SETTLED,
    }
    return render_to_string("jobs/slotdays/_panel.html", context, request)


@touches(action="slot_day.edit", order=30)
def times_given(change: Change) -> list[Effect]:
    """Tell how many have a time of the session."""
    day = day_of(change.booking)
    taken = day.sittings.taken().count() if day else 0
    if day is None or not taken:
        return []
    have = f"{taken} {'person has' if taken == 1 else 'people have'} a time that day. "
    words = (
        "Their jobs stay open: write to them, and see to what they paid."
        if change.is_off
        else "All times move along; write to them afterwards."
    )
    return [
        Effect(
            title="Sittings",
            words=have + words,
            weight=Weight.WARNS,
            url=day.get_absolute_url(),
            verb="The times",
        )
    ]


@follows_a_move
def take_sittings_along(
    booking: Any, shift: timedelta, by: Person, at: datetime
) -> None:
    """Let the sittings of a session go along with it."""
    shift_sittings(booking, shift)
