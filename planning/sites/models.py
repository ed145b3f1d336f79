"""What light needs to know of a place: its skyline, its ground, its compass."""

from __future__ import annotations

from django.db import models
from django.db.models import Q

from jobs.places.models import Place
from planning.sites.grounds import Ground
from planning.sites.interiors import NET_CURTAIN, TRANSMITTANCES, Glazing, WallTone
from studio.people.models import Person


class Site(models.Model):
    """The skyline of a place as seen from where sitters stand.

    `skyline` is a list of stretches, each `{"from_deg", "to_deg", "height_deg",
    "name"}`: from one true azimuth clockwise to another something of that height
    hides the sun. `profile` is a line of points with straight pieces
    between them, each an azimuth, a height, what stands there, whether it was
    measured, and the days of its leaves. `estimated` is false
    once a height was measured.
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
    client_key = models.CharField(max_length=40, blank=True)
    """What the phone called it, so that what is sent twice is marked once."""

    class Meta:
        ordering = ["azimuth_deg", "pk"]
        constraints = [
            models.UniqueConstraint(
                name="sun_mark_once_a_key",
                fields=["place", "client_key"],
                condition=~Q(client_key=""),
            ),
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


class Room(models.Model):
    """A room of a place, as its light is worked out."""

    place = models.ForeignKey(Place, models.CASCADE, related_name="rooms")
    name = models.CharField(max_length=120)
    length_m = models.FloatField()
    width_m = models.FloatField()
    height_m = models.FloatField(default=2.4)
    walls = models.CharField(max_length=8, choices=WallTone, default=WallTone.NORMAL)

    class Meta:
        ordering = ["name", "pk"]
        constraints = [
            models.CheckConstraint(
                name="room_has_a_size",
                condition=Q(length_m__gt=0) & Q(width_m__gt=0) & Q(height_m__gt=0),
            ),
        ]

    def __str__(self) -> str:
        return self.name

    @property
    def surface_m2(self) -> float:
        """Floor, ceiling and walls together."""
        round_about = 2.0 * (self.length_m + self.width_m) * self.height_m
        return 2.0 * self.length_m * self.width_m + round_about


class Window(models.Model):
    """A window of a room: its glass, and the way it looks out, true."""

    room = models.ForeignKey(Room, models.CASCADE, related_name="windows")
    name = models.CharField(max_length=120)
    width_m = models.FloatField()
    height_m = models.FloatField()
    sill_m = models.FloatField(default=0.9)
    facing_deg = models.FloatField()
    glazing = models.CharField(max_length=8, choices=Glazing, default=Glazing.DOUBLE)
    obstruction_deg = models.FloatField(default=0.0)
    """How high what stands opposite reaches, seen from the window."""
    has_curtain = models.BooleanField(default=False)

    class Meta:
        ordering = ["name", "pk"]
        constraints = [
            models.CheckConstraint(
                name="window_has_a_size",
                condition=Q(width_m__gt=0)
                & Q(height_m__gt=0)
                & Q(sill_m__gte=0)
                & Q(obstruction_deg__gte=0)
                & Q(obstruction_deg__lt=90),
            ),
        ]

    def __str__(self) -> str:
        return f"{self.room.name}, {self.name}"

    @property
    def place_id(self) -> int:
        """The place that its room is in."""
        return self.room.place_id

    @property
    def transmittance(self) -> float:
        """The share of light that glass and curtain let in."""
        share = TRANSMITTANCES[Glazing(self.glazing)]
        return share * NET_CURTAIN if self.has_curtain else share
