"""Equipment: single items with what light planning needs to know, and kits."""

from __future__ import annotations

from typing import Self

from django.db import models
from django.db.models import Q
from django.urls import reverse

from studio.finding.models import Findable, FindableWords
from studio.finding.words import Words


class KitCategory(models.TextChoices):
    """What an item is; call sheets list kit by these."""

    CAMERA = "CAMERA", "Camera"
    LENS = "LENS", "Lens"
    FLASH = "FLASH", "Flash"
    MODIFIER = "MODIFIER", "Light modifier"
    BOARD = "BOARD", "Board or reflector"
    SUPPORT = "SUPPORT", "Tripod or stand"
    FILTER = "FILTER", "Filter or gel"
    POWER = "POWER", "Battery or card"
    OTHER = "OTHER", "Other"


class Trouble(models.TextChoices):
    """Why an item cannot go out."""

    MISSING = "MISSING", "Missing"
    DAMAGED = "DAMAGED", "Damaged"


class KitItemQuerySet(models.QuerySet["KitItem"]):
    """Narrow kit items down."""

    def in_use(self) -> Self:
        """Keep the items that the studio still has."""
        return self.filter(retired=False)

    def in_trouble(self) -> Self:
        """Keep the items that are missing or damaged."""
        return self.in_use().exclude(trouble="")

    def of(self, *categories: KitCategory) -> Self:
        """Keep the items of some categories."""
        return self.filter(category__in=categories)

    def matching(self, words: str) -> Self:
        """Keep the items whose name, serial number or bag holds the words."""
        return self.filter(FindableWords.objects.leading_to(KitItem, words))


KitItemManager = models.Manager.from_queryset(KitItemQuerySet)


class KitItem(Findable):
    """One thing that can be taken to one booking at a time.

    The figures fit the category: a camera has a sensor and a sync time, a lens its
    focal length and widest aperture, a flash its guide number in metres at ISO 100.
    """

    name = models.CharField(max_length=120)
    category = models.CharField(max_length=10, choices=KitCategory)
    serial = models.CharField(max_length=80, blank=True)
    bag = models.CharField(max_length=80, blank=True)
    shelf = models.CharField(max_length=80, blank=True)
    retired = models.BooleanField(default=False)
    notes = models.CharField(max_length=400, blank=True)
    value_minor = models.PositiveBigIntegerField(null=True, blank=True)
    currency = models.CharField(max_length=3, blank=True)
    bought_on = models.DateField(null=True, blank=True)
    service_due_on = models.DateField(null=True, blank=True)
    trouble = models.CharField(max_length=8, choices=Trouble, blank=True)
    trouble_note = models.CharField(max_length=200, blank=True)

    sensor_width_mm = models.FloatField(null=True, blank=True)
    sensor_height_mm = models.FloatField(null=True, blank=True)
    base_iso = models.PositiveIntegerField(null=True, blank=True)
    highest_iso = models.PositiveIntegerField(null=True, blank=True)
    sync_denominator = models.PositiveIntegerField(
        "sync speed, 1/", null=True, blank=True
    )
    fastest_denominator = models.PositiveIntegerField(
        "fastest shutter, 1/", null=True, blank=True
    )
    frames_per_battery = models.PositiveIntegerField(null=True, blank=True)
    megabytes_per_frame = models.PositiveIntegerField(null=True, blank=True)

    focal_length_mm = models.FloatField(null=True, blank=True)
    longest_focal_length_mm = models.FloatField(null=True, blank=True)
    widest_f_number = models.FloatField(null=True, blank=True)
    narrowest_f_number = models.FloatField(null=True, blank=True)
    close_focus_m = models.FloatField(null=True, blank=True)
    stabilisation_stops = models.FloatField(null=True, blank=True)

    guide_number_m = models.FloatField(null=True, blank=True)
    loss_stops = models.FloatField(null=True, blank=True)
    recycle_s = models.FloatField(null=True, blank=True)
    least_power_denominator = models.PositiveIntegerField(
        "least power, 1/", null=True, blank=True
    )
    power_steps_a_stop = models.PositiveIntegerField(null=True, blank=True)
    high_speed_entry_stops = models.FloatField(null=True, blank=True)
    """What high-speed sync takes at once; None where the flash has none."""

    measured_guide_number_m = models.FloatField(null=True, blank=True)
    """What a test frame found of this very flash; it counts before the maker's."""
    measured_loss_stops = models.FloatField(null=True, blank=True)
    """What a test frame found that this modifier takes; it counts first as well."""

    width_m = models.FloatField(null=True, blank=True)
    height_m = models.FloatField(null=True, blank=True)
    reflectance = models.FloatField(null=True, blank=True)

    objects = KitItemManager()
    found_by = frozenset({"name", "serial", "bag"})

    class Meta:
        ordering = ["category", "name", "pk"]
        constraints = [
            models.CheckConstraint(
                name="kit_item_value_has_its_currency",
                condition=Q(value_minor__isnull=True) | ~Q(currency=""),
            ),
        ]

    def __str__(self) -> str:
        return self.name

    def words(self) -> Words:
        """Return what the item is found by."""
        return Words(own=(self.name, self.serial, self.bag))

    def get_absolute_url(self) -> str:
        """Return the item's page."""
        return reverse("jobs:kit_item", args=[self.pk])

    @property
    def real_guide_number_m(self) -> float | None:
        """The guide number that plans use: measured, or else the maker's."""
        return self.measured_guide_number_m or self.guide_number_m

    @property
    def real_loss_stops(self) -> float:
        """What plans count that it takes: measured, or else as it was typed."""
        if self.measured_loss_stops is not None:
            return self.measured_loss_stops
        return self.loss_stops or 0.0


class Kit(models.Model):
    """A named set of items that go out together."""

    name = models.CharField(max_length=120, unique=True)
    items = models.ManyToManyField(KitItem, blank=True, related_name="kits")

    class Meta:
        ordering = ["name"]

    def __str__(self) -> str:
        return self.name

    def get_absolute_url(self) -> str:
        """Return the kit's page."""
        return reverse("jobs:kit_set", args=[self.pk])


class KitAlternative(models.Model):
    """One of the items of which a kit needs only one, such as either camera.

    Those of a `position` stand in the order in which they are taken: the first that is
    free goes out.
    """

    kit = models.ForeignKey(Kit, models.CASCADE, related_name="alternatives")
    position = models.PositiveSmallIntegerField()
    rank = models.PositiveSmallIntegerField()
    item = models.ForeignKey(KitItem, models.CASCADE, related_name="alternatives")

    class Meta:
        ordering = ["kit", "position", "rank"]
        constraints = [
            models.UniqueConstraint(
                name="kit_alternative_once", fields=["kit", "position", "item"]
            ),
        ]

    def __str__(self) -> str:
        return f"{self.item}, one of {self.kit}"
