"""What came back from a session of the kit that went out, item by item."""

from __future__ import annotations

from django.conf import settings
from django.db import models

from jobs.bookings.models import Booking
from jobs.kits.models import KitItem


class CameBack(models.TextChoices):
    """How an item came back from a session."""

    RETURNED = "RETURNED", "Back"
    MISSING = "MISSING", "Missing"
    DAMAGED = "DAMAGED", "Damaged"


class KitReturn(models.Model):
    """How one item came back from one session, and who ticked it."""

    booking = models.ForeignKey(Booking, models.CASCADE, related_name="kit_returns")
    item = models.ForeignKey(KitItem, models.CASCADE, related_name="returns")
    state = models.CharField(max_length=8, choices=CameBack)
    note = models.CharField(max_length=200, blank=True)
    ticked_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, related_name="+"
    )
    ticked_at = models.DateTimeField()

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.UniqueConstraint(
                name="kit_return_once_a_booking", fields=["booking", "item"]
            ),
        ]

    def __str__(self) -> str:
        return f"{self.item}: {self.get_state_display()}"
