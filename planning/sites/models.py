"""What light needs to know of a place: its skyline and its ground."""

from __future__ import annotations

from django.db import models
from django.db.models import Q

from jobs.places.models import Place


class Site(models.Model):
    """The skyline of a place as seen from where sitters stand.

    `skyline` is a list of stretches, each `{"from_deg", "to_deg", "height_deg",
    "name"}`: from one true azimuth clockwise to another something of that height
    hides the sun. `estimated` is false once a height was measured.
    """

    place = models.OneToOneField(Place, models.CASCADE, related_name="site")
    skyline = models.JSONField(default=list, blank=True)
    estimated = models.BooleanField(default=True)
    ground_reflectance = models.FloatField(default=0.2)

    class Meta:
        constraints = [
            models.CheckConstraint(
                name="site_ground_reflects_a_share",
                condition=Q(ground_reflectance__gte=0) & Q(ground_reflectance__lte=1),
            ),
        ]

    def __str__(self) -> str:
        return f"Skyline of {self.place}"
