"""What one frame of a session taught: the settings that worked at one minute."""

from __future__ import annotations

from django.conf import settings
from django.db import models
from django.db.models import Q

from jobs.bookings.models import Booking
from planning.shoots.models import SetUp


class Reading(models.Model):
    """Settings that worked, by their exact stops, and what the plan had said.

    `planned_exposure_value` is frozen when the reading is kept, so that a plan that
    changes later does not change what was learnt; None where the two do not compare.
    """

    booking = models.ForeignKey(Booking, models.CASCADE, related_name="readings")
    set_up = models.ForeignKey(
        SetUp, models.SET_NULL, null=True, blank=True, related_name="readings"
    )
    read_at = models.DateTimeField()
    read_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, related_name="+"
    )
    f_number = models.FloatField()
    shutter_s = models.FloatField()
    iso = models.FloatField()
    note = models.CharField(max_length=200, blank=True)
    exposure_value = models.FloatField()
    planned_exposure_value = models.FloatField(null=True, blank=True)
    planned_shift_stops = models.FloatField(default=0.0)
    """What an earlier frame had already moved `planned_exposure_value` by."""
    sun_altitude_deg = models.FloatField()
    sky = models.CharField(max_length=40)
    client_key = models.CharField(max_length=40)

    class Meta:
        ordering = ["-read_at", "-pk"]
        constraints = [
            models.UniqueConstraint(
                name="reading_once_a_key", fields=["booking", "client_key"]
            ),
            models.CheckConstraint(
                name="reading_settings_above_zero",
                condition=Q(f_number__gt=0) & Q(shutter_s__gt=0) & Q(iso__gt=0),
            ),
        ]

    def __str__(self) -> str:
        return f"Reading of {self.read_at:%Y-%m-%d %H:%M} UTC"

    @property
    def change_stops(self) -> float | None:
        """How much brighter it was than planned, in stops; None if not comparable."""
        if self.planned_exposure_value is None:
            return None
        return self.exposure_value - self.planned_exposure_value

    @property
    def model_change_stops(self) -> float | None:
        """How much brighter it was than the light model said, earlier frames apart."""
        change = self.change_stops
        return None if change is None else change + self.planned_shift_stops
