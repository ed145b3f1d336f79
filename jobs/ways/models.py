"""How long the way between two places takes, where somebody has said so."""

from __future__ import annotations

from django.db import models
from django.db.models import F, Q

from jobs.places.models import Place


class KnownWay(models.Model):
    """The minutes from one place to another, either way; `first` has the lower key."""

    first = models.ForeignKey(Place, models.CASCADE, related_name="+")
    second = models.ForeignKey(Place, models.CASCADE, related_name="+")
    minutes = models.PositiveSmallIntegerField()

    class Meta:
        constraints = [
            models.UniqueConstraint(name="way_once", fields=["first", "second"]),
            models.CheckConstraint(
                name="way_from_the_lower_key", condition=Q(first__lt=F("second"))
            ),
            models.CheckConstraint(
                name="way_within_a_day", condition=Q(minutes__lte=1440)
            ),
        ]

    def __str__(self) -> str:
        return f"{self.first} to {self.second}: {self.minutes} minutes"
