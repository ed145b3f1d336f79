"""What is done of a session while it runs: set-ups shot, people photographed."""

from __future__ import annotations

from django.conf import settings
from django.db import models

from jobs.bookings.models import Booking


class SessionTick(models.Model):
    """One thing of a session that is done, or was and is taken back.

    `key` names it: `set-up:12`, `group:3` or `sitter:7`. `changed_at` is when somebody
    tapped, not when it arrived, so that what was kept without network falls into its
    place.
    """

    booking = models.ForeignKey(Booking, models.CASCADE, related_name="session_ticks")
    key = models.CharField(max_length=40)
    is_done = models.BooleanField()
    changed_at = models.DateTimeField()
    changed_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, related_name="+"
    )

    class Meta:
        constraints = [
            models.UniqueConstraint(
                name="session_tick_once_a_key", fields=["booking", "key"]
            ),
        ]

    def __str__(self) -> str:
        return f"{self.key} of booking {self.booking_id}"
