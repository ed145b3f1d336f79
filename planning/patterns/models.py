"""The studio's own library of set-ups, kept to be used again on any job."""

from __future__ import annotations

from django.db import models


class Anchor(models.TextChoices):
    """What the time of a kept set-up is counted from."""

    SUNSET = "sunset", "Sunset"
    START = "start", "The start of the session"


class SavedSetUp(models.Model):
    """A set-up as it was when it was kept; changes of the first one do not reach it.

    `details` are written by `frozen.freeze`. `sun_turn_deg` is where the sun stood from
    the camera's heading, right above 0; None if it was down.
    """

    name = models.CharField(max_length=120, unique=True)
    anchor = models.CharField(max_length=8, choices=Anchor, default=Anchor.START)
    offset_minutes = models.IntegerField(default=0)
    details = models.JSONField()
    sun_turn_deg = models.FloatField(null=True, blank=True)
    kept_from = models.CharField(max_length=200, blank=True)
    kept_at = models.DateTimeField()

    class Meta:
        ordering = ["name", "pk"]

    def __str__(self) -> str:
        return self.name

    @property
    def time_words(self) -> str:
        """When it starts, from what it is counted: "40 min before sunset"."""
        what = "sunset" if self.anchor == Anchor.SUNSET else "the start of the session"
        size = abs(self.offset_minutes)
        if size == 0:
            return f"At {what}"
        length = f"{size} min" if size < 90 else f"{size // 60} h {size % 60:02d} min"
        return f"{length} {'before' if self.offset_minutes < 0 else 'after'} {what}"
