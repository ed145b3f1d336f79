"""What moving or calling off a session touches of invitations."""

from __future__ import annotations

from django.urls import reverse

from jobs.bookings.models import Booking
from studio.effects import Change, Effect, touches


@touches(action="booking.invite", order=30)
def invitations_out(change: Change) -> list[Effect]:
    """Tell who has the session in their calendar as it stands now."""
    booking: Booking = change.booking
    names = [
        row.name or row.address
        for row in booking.invitations.filter(withdrawn_at__isnull=True)
    ]
    if not names:
        return []
    then = "Take it back from them" if change.is_off else "Send them the change"
    return [
        Effect(
            title="Invitations are out",
            words=f"{', '.join(names)} have it in hand. {then} afterwards.",
            url=reverse("jobs:invite", args=[booking.pk]),
            verb="Invitations",
        )
    ]
