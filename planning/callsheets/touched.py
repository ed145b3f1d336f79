"""What moving or calling off a session touches of its call sheet."""

from __future__ import annotations

from django.urls import reverse

from jobs.bookings.models import Booking
from planning.callsheets.receivers import deliveries_of
from studio.effects import Change, Effect, touches
from studio.profile.models import StudioProfile
from studio.wording import day_short


@touches(action="call_sheet.make", order=20)
def call_sheet_out(change: Change) -> list[Effect]:
    """Tell which version went out last, and to whom."""
    booking: Booking = change.booking
    sent = booking.call_sheets.filter(sent_at__isnull=False).first()
    if sent is None or sent.sent_at is None:
        return []
    told = [one.recipient for one in deliveries_of(booking, sent) if one.state]
    names = ", ".join(one.name or one.address for one in told) or "nobody any more"
    on = sent.sent_at.astimezone(StudioProfile.load().zone)
    then = "Ring them" if change.is_off else "Make and send a new version"
    return [
        Effect(
            title=f"Call sheet {sent.version} is out",
            words=f"Sent on {day_short(on)}, {on:%H:%M} to {names}. {then} afterwards.",
            url=reverse("planning:call_sheet", args=[booking.pk]),
            verb="Call sheet",
        )
    ]
