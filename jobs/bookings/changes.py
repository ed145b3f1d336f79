"""What was moved or called off, from when to when, and why."""

from __future__ import annotations

from django.conf import settings
from django.db import models

from jobs.bookings.models import Booking
from jobs.bookings.states import BookingStatus


class ChangeKind(models.TextChoices):
    """What happened to a session."""

    MOVED = "MOVED", "Moved"
    CANCELLED = "CANCELLED", "Called off"
    TAKEN_UP = "TAKEN_UP", "Taken up again"


class SessionChange(models.Model):
    """One move of a session, or its end; the row says how it was before.

    The reason stands here and not in the journal, which holds no words of people.
    """

    booking = models.ForeignKey(Booking, models.CASCADE, related_name="changes")
    kind = models.CharField(max_length=10, choices=ChangeKind)
    at = models.DateTimeField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, models.PROTECT, related_name="+")
    because = models.CharField(max_length=200, blank=True)
    was_starts_at = models.DateTimeField()
    was_ends_at = models.DateTimeField()
    was_status = models.CharField(max_length=10, choices=BookingStatus)
    was_held_until = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["-at", "-pk"]

    def __str__(self) -> str:
        return f"{self.get_kind_display()} {self.at:%d %b %Y %H:%M}"
