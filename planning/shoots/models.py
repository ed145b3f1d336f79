"""The light plan of a booking, and its set-ups in order."""

from __future__ import annotations

from datetime import datetime, timedelta

from django.db import models
from django.db.models import Q

from jobs.bookings.models import Booking
from jobs.kits.models import KitItem
from planning.shoots.choices import (
    Aim,
    FlashMode,
    FlashPurpose,
    Light,
    Metering,
    Movement,
    SecondPurpose,
    Shade,
    SkyWord,
    Support,
    Surface,
    Trigger,
    WallOutdoors,
)
from planning.sites.models import Window


class ShootPlan(models.Model):
    """The light plan of one booking: for which sky, and with which set-ups."""

    booking = models.OneToOneField(Booking, models.CASCADE, related_name="shoot_plan")
    sky = models.CharField(max_length=16, choices=SkyWord, default=SkyWord.CLEAR)
    notes = models.TextField(max_length=2000, blank=True)
    version = models.PositiveIntegerField(default=1)

    def __str__(self) -> str:
        return f"Light plan of booking {self.booking_id}"


class SetUp(models.Model):
    """One arrangement of sitters, camera and light, from a start for some minutes.

    Headings are true, clockwise from north. The sitters look at the camera unless
    `facing_deg` says where they look.
    """

    plan = models.ForeignKey(ShootPlan, models.CASCADE, related_name="set_ups")
    position = models.PositiveSmallIntegerField()
    name = models.CharField(max_length=120)
    note = models.CharField(max_length=400, blank=True)
    starts_at = models.DateTimeField()
    minutes = models.PositiveSmallIntegerField(default=30)
    frames = models.PositiveIntegerField(default=120)

    light = models.CharField(max_length=12, choices=Light, default=Light.OPEN_SKY)
    window_share_pct = models.FloatField(default=3.0)
    window = models.ForeignKey(
        Window, models.PROTECT, null=True, blank=True, related_name="+"
    )
    """Where it is known, the light is worked out from it, not from the share."""
    window_distance_m = models.FloatField(default=1.5)
    window_offset_m = models.FloatField(default=0.0)
    shade = models.CharField(max_length=8, choices=Shade, default=Shade.NOTHING)
    shaded_from_at = models.DateTimeField(null=True, blank=True)
    shaded_until_at = models.DateTimeField(null=True, blank=True)

    camera_heading_deg = models.FloatField(default=0.0)
    facing_deg = models.FloatField(null=True, blank=True)
    people = models.PositiveSmallIntegerField(default=1)
    depth_m = models.FloatField(default=0.3)
    distance_m = models.FloatField(default=3.0)
    movement = models.CharField(
        max_length=12, choices=Movement, default=Movement.STANDING
    )

    camera = models.ForeignKey(
        KitItem, models.PROTECT, null=True, blank=True, related_name="+"
    )
    lens = models.ForeignKey(
        KitItem, models.PROTECT, null=True, blank=True, related_name="+"
    )
    focal_length_mm = models.FloatField(default=85.0)
    support = models.CharField(max_length=8, choices=Support, default=Support.HANDHELD)
    camera_upright = models.BooleanField(default=False)
    aim = models.CharField(max_length=12, choices=Aim, default=Aim.BALANCED)

    flash = models.ForeignKey(
        KitItem, models.PROTECT, null=True, blank=True, related_name="+"
    )
    flash_purpose = models.CharField(
        max_length=8, choices=FlashPurpose, default=FlashPurpose.KEY
    )
    flash_mode = models.CharField(
        max_length=8, choices=FlashMode, default=FlashMode.DIRECT
    )
    flash_distance_m = models.FloatField(default=2.0)
    flash_bearing_deg = models.FloatField(default=45.0)
    """Where the flash stands as seen from the camera's axis: + is camera right."""
    modifier_loss_stops = models.FloatField(default=0.0)
    modifier = models.ForeignKey(
        KitItem, models.PROTECT, null=True, blank=True, related_name="+"
    )
    bounce_surface = models.CharField(
        max_length=8, choices=Surface, default=Surface.CEILING
    )
    bounce_to_m = models.FloatField(default=1.5)
    """From the flash to what it is thrown at."""
    bounce_on_m = models.FloatField(default=2.0)
    """From there to the sitters."""
    bounce_reflectance = models.FloatField(null=True, blank=True)
    flash_from_lens_m = models.FloatField(null=True, blank=True)
    """How far the flash sits from the lens where it is on the camera."""
    metering = models.CharField(
        max_length=10, choices=Metering, default=Metering.MANUAL
    )
    key_to_fill = models.FloatField(null=True, blank=True)
    """The wanted contrast, each light measured by itself: 2 is one stop."""
    frames_a_minute = models.FloatField(null=True, blank=True)
    """The pace at its fastest; None: as the frames and minutes say."""

    second_flash = models.ForeignKey(
        KitItem, models.PROTECT, null=True, blank=True, related_name="+"
    )
    second_purpose = models.CharField(
        max_length=8, choices=SecondPurpose, default=SecondPurpose.RIM
    )
    second_distance_m = models.FloatField(default=2.5)
    second_bearing_deg = models.FloatField(default=-135.0)
    second_modifier = models.ForeignKey(
        KitItem, models.PROTECT, null=True, blank=True, related_name="+"
    )
    second_trigger = models.CharField(
        max_length=8, choices=Trigger, default=Trigger.RADIO
    )

    board = models.ForeignKey(
        KitItem, models.PROTECT, null=True, blank=True, related_name="+"
    )
    board_distance_m = models.FloatField(default=1.0)
    board_bearing_deg = models.FloatField(default=-60.0)
    """Where the board stands, seen from the sitters: + is camera right."""

    wall_tone = models.CharField(max_length=8, choices=WallOutdoors, blank=True)
    """A wall outdoors beside the sitters; empty: none that counts."""
    wall_distance_m = models.FloatField(default=2.0)
    wall_width_m = models.FloatField(default=5.0)
    wall_height_m = models.FloatField(default=3.0)
    wall_bearing_deg = models.FloatField(default=-90.0)
    """Where its middle stands, seen from the sitters: + is camera right."""
    wall_in_sun = models.BooleanField(default=False)
    """Whether the sun gets at it, where it faces the sun."""

    class Meta:
        ordering = ["position", "pk"]
        constraints = [
            models.CheckConstraint(
                name="set_up_lasts_and_has_people",
                condition=Q(minutes__gte=1)
                & Q(minutes__lte=1440)
                & Q(people__gte=0)
                & Q(distance_m__gt=0)
                & Q(depth_m__gte=0)
                & Q(focal_length_mm__gt=0),
            ),
        ]

    def __str__(self) -> str:
        return self.name

    @property
    def ends_at(self) -> datetime:
        """When the set-up ends."""
        return self.starts_at + timedelta(minutes=self.minutes)

    @property
    def pace(self) -> float:
        """How many frames a minute are wanted."""
        return self.frames_a_minute or self.frames / max(self.minutes, 1)

    @property
    def sitters_face_deg(self) -> float:
        """Which way the sitters look: at the camera, unless said otherwise."""
        if self.facing_deg is not None:
            return self.facing_deg
        return (self.camera_heading_deg + 180.0) % 360.0
