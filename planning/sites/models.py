"""What light needs to know of a place: its skyline, its ground, its compass."""

from __future__ import annotations

from django.db import models
from django.db.models import Q

from jobs.places.models import Place
from planning.sites.grounds import Ground
from studio.people.models import Person


class Site(models.Model):
    """The skyline of a place as seen from where sitters stand.

    `skyline` is a list of stretches, each `{"from_deg", "to_deg", "height_deg",
    "name"}`: from one true azimuth clockwise to another something of that height
    hides the sun. `profile` is a line of points, each an azimuth and a height, with
    straight pieces between them. `estimated` is false once a height was measured.
    """

    place = models.OneToOneField(Place, models.CASCADE, related_name="site")
    skyline = models.JSONField(default=list, blank=True)
    profile = models.JSONField(default=list, blank=True)
    seen = models.JSONField(default=list, blank=True)
    """The points of its sun marks, newest first; operations keep it, plans read it."""
    estimated = models.BooleanField(default=True)
    ground = models.CharField(max_length=12, choices=Ground, default=Ground.GRASS)
    ground_reflectance = models.FloatField(default=0.2)
    declination_deg = models.FloatField(null=True, blank=True)
    """How far a compass needle points east of true north; west is below 0."""
    declination_on = models.DateField(null=True, blank=True)

    class Meta:
        constraints = [
            models.CheckConstraint(
                name="site_ground_reflects_a_share",
                condition=Q(ground_reflectance__gte=0) & Q(ground_reflectance__lte=1),
            ),
            models.CheckConstraint(
                name="site_declination_is_an_angle",
                condition=Q(declination_deg__isnull=True)
                | (Q(declination_deg__gte=-180) & Q(declination_deg__lte=180)),
            ),
        ]

    def __str__(self) -> str:
        return f"Skyline of {self.place}"


class SunMark(models.Model):
    """Where the sun stood when somebody at the place saw it go: a point of skyline."""

    place = models.ForeignKey(Place, models.CASCADE, related_name="sun_marks")
    seen_at = models.DateTimeField()
    azimuth_deg = models.FloatField()
    altitude_deg = models.FloatField()
    seen_by = models.ForeignKey(Person, models.SET_NULL, null=True, related_name="+")

    class Meta:
        ordering = ["azimuth_deg", "pk"]
        constraints = [
            models.CheckConstraint(
                name="sun_mark_is_in_the_sky",
                condition=Q(azimuth_deg__gte=0)
                & Q(azimuth_deg__lte=360)
                & Q(altitude_deg__gte=-1)
                & Q(altitude_deg__lte=90),
            ),
        ]

    def __str__(self) -> str:
        return f"{self.altitude_deg:.1f}° at {self.azimuth_deg:.0f}°"
