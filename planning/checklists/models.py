"""What to pack and prepare for a booking, and who ticked it off."""

from __future__ import annotations

from django.conf import settings
from django.db import models

from jobs.bookings.models import Booking
from jobs.kits.models import KitItem


class Section(models.TextChoices):
    """Where an item stands on the list."""

    CAMERA = "CAMERA", "Cameras and lenses"
    LIGHT = "LIGHT", "Light"
    GRIP = "GRIP", "Grip and place"
    BEFORE = "BEFORE", "Before the day"


class ChecklistItem(models.Model):
    """One thing to pack or to do. `key` ties it to what in the plan asks for it."""

    booking = models.ForeignKey(Booking, models.CASCADE, related_name="checklist")
    key = models.CharField(max_length=80)
    section = models.CharField(max_length=8, choices=Section)
    words = models.CharField(max_length=200)
    reason = models.CharField(max_length=300, blank=True)
    by_hand = models.BooleanField(default=False)
    kit_item = models.ForeignKey(
        KitItem, models.SET_NULL, null=True, blank=True, related_name="+"
    )
    ticked_at = models.DateTimeField(null=True, blank=True)
    ticked_by = models.ForeignKey(
        settings.AUTH_USER_MODEL,
        models.PROTECT,
        null=True,
        blank=True,
        related_name="+",
    )

    class Meta:
        ordering = ["section", "pk"]
        constraints = [
            models.UniqueConstraint(
                name="checklist_item_once_a_booking", fields=["booking", "key"]
            ),
        ]

    def __str__(self) -> str:
        return self.words
