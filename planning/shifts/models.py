"""By how much a frame moved the rest of a plan, and from which set-up on."""

from __future__ import annotations

from django.conf import settings
from django.db import models
from django.db.models import Q

from jobs.bookings.models import Booking
from planning.shoots.choices import SkyWord


class LightKind(models.TextChoices):
    """What a frame can speak for: light of one kind under one sky."""

    OUTDOORS = "outdoors", "outdoors"
    WINDOW = "window", "by the window"


class LightShift(models.Model):
    """What one frame found, laid on the set-ups that were still to come.

    `stops` is against the light model itself, not against an earlier shift: + is
    brighter. It holds under the sky that was planned then, and no other.
    """

    booking = models.ForeignKey(Booking, models.CASCADE, related_name="light_shifts")
    reading = models.ForeignKey(
        "planning.Reading", models.CASCADE, related_name="shifts"
    )
    set_up = models.ForeignKey(
        "planning.SetUp", models.SET_NULL, null=True, related_name="+"
    )
    """Of which the frame was: it and all that start later are shifted."""
    kind = models.CharField(max_length=8, choices=LightKind)
    sky = models.CharField(max_length=16, choices=SkyWord)
    stops = models.FloatField()
    frame_at = models.DateTimeField()
    made_at = models.DateTimeField()
    made_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, related_name="+"
    )
    taken_back_at = models.DateTimeField(null=True, blank=True)
    taken_back_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, related_name="+"
    )

    class Meta:
        ordering = ["-frame_at", "-pk"]
        constraints = [
            models.UniqueConstraint(
                name="light_shift_once_a_frame",
                fields=["reading"],
                condition=Q(taken_back_at__isnull=True),
            ),
            models.CheckConstraint(
                name="light_shift_taken_back_by_somebody",
                condition=Q(taken_back_at__isnull=True, taken_back_by__isnull=True)
                | Q(taken_back_at__isnull=False, taken_back_by__isnull=False),
            ),
        ]

    def __str__(self) -> str:
        return f"{self.stops:+.2f} stops for booking {self.booking_id}"
