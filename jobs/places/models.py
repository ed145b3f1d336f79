"""Where sessions happen."""

from __future__ import annotations

from typing import Self
from zoneinfo import ZoneInfo

from django.db import models
from django.db.models import Q
from django.urls import reverse

from studio.finding.models import Findable, FindableWords
from studio.finding.words import Words


class PlaceQuerySet(models.QuerySet["Place"]):
    """Narrow places down."""

    def matching(self, words: str) -> Self:
        """Keep the places whose name or address holds the words."""
        return self.filter(FindableWords.objects.leading_to(Place, words))


PlaceManager = models.Manager.from_queryset(PlaceQuerySet)


class Place(Findable):
    """A place with its coordinates, its clock, and what to know before going."""

    name = models.CharField(max_length=300)
    address = models.TextField(max_length=400, blank=True)
    latitude_deg = models.FloatField()
    longitude_deg = models.FloatField()
    time_zone = models.CharField(max_length=60)
    is_room = models.BooleanField(
        "one session at a time",
        default=False,
        help_text="A room or studio that only one booking can use at once.",
    )
    meeting_point = models.CharField(max_length=300, blank=True)
    access = models.TextField(max_length=1000, blank=True)
    access_from = models.TimeField(null=True, blank=True)
    access_until = models.TimeField(null=True, blank=True)
    parking = models.TextField(max_length=600, blank=True)
    rain_plan = models.TextField(max_length=600, blank=True)
    power = models.CharField(max_length=300, blank=True)
    contact_name = models.CharField(max_length=160, blank=True)
    contact_phone = models.CharField(max_length=40, blank=True)
    notes = models.TextField(max_length=2000, blank=True)

    objects = PlaceManager()
    found_by = frozenset({"name", "address"})

    class Meta:
        ordering = ["name", "pk"]
        constraints = [
            models.CheckConstraint(
                name="place_is_on_the_earth",
                condition=Q(latitude_deg__gte=-90)
                & Q(latitude_deg__lte=90)
                & Q(longitude_deg__gte=-180)
                & Q(longitude_deg__lte=180),
            ),
        ]

    def __str__(self) -> str:
        return self.name

    def words(self) -> Words:
        """Return what the place is found by."""
        return Words(own=(self.name, self.address))

    def get_absolute_url(self) -> str:
        """Return the place's page."""
        return reverse("jobs:place", args=[self.pk])

    @property
    def zone(self) -> ZoneInfo:
        """The clock that people at the place go by."""
        return ZoneInfo(self.time_zone)

    @property
    def clock_name(self) -> str:
        """Whose clock the place goes by, as people say it: London, Buenos Aires."""
        return self.time_zone.split("/")[-1].replace("_", " ")

    @property
    def access_hours(self) -> str:
        """When one may be there: "10:00 to 18:00", "until 18:00"; nothing if free."""
        first = f"{self.access_from:%H:%M}" if self.access_from else ""
        last = f"{self.access_until:%H:%M}" if self.access_until else ""
        if first and last:
            return f"{first} to {last}"
        return f"from {first}" if first else f"until {last}" if last else ""

    @property
    def coordinates_words(self) -> str:
        """The coordinates as people write them: 54.470 N, 0.620 W."""
        north = "N" if self.latitude_deg >= 0 else "S"
        east = "E" if self.longitude_deg >= 0 else "W"
        latitude, longitude = abs(self.latitude_deg), abs(self.longitude_deg)
        return f"{latitude:.3f} {north}, {longitude:.3f} {east}"
