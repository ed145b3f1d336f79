"""The studio's price list."""

from __future__ import annotations

from typing import Self

from django.db import models
from django.db.models import Q

from studio.money import Money
from studio.profile.models import StudioProfile


class PriceItemQuerySet(models.QuerySet["PriceItem"]):
    """Narrow the price list down."""

    def offered(self) -> Self:
        """Keep what is still sold."""
        return self.filter(retired=False)


PriceItemManager = models.Manager.from_queryset(PriceItemQuerySet)


class PriceKind(models.TextChoices):
    """What sort of thing a price is for."""

    PACKAGE = "PACKAGE", "Package"
    ITEM = "ITEM", "Item"
    HOUR = "HOUR", "Hour"
    PRINT = "PRINT", "Print"
    TRAVEL = "TRAVEL", "Travel"
    LICENCE = "LICENCE", "Usage licence"


class PriceItem(models.Model):
    """One thing with a price, as the list says it: with tax in it or before tax.

    The price of travel holds up to a distance one way; without one it is that of
    each mile or kilometre driven.
    """

    kind = models.CharField(max_length=8, choices=PriceKind, default=PriceKind.ITEM)
    name = models.CharField(max_length=200)
    detail = models.CharField(max_length=400, blank=True)
    unit = models.CharField(max_length=40, blank=True)
    unit_price_minor = models.BigIntegerField()
    cost_minor = models.BigIntegerField("own cost of one", default=0)
    tax_rate_basis_points = models.PositiveIntegerField(
        null=True, blank=True, help_text="The studio's usual rate where empty."
    )
    up_to_distance = models.PositiveIntegerField(null=True, blank=True)
    licence_who = models.CharField(max_length=100, blank=True)
    licence_where = models.CharField(max_length=160, blank=True)
    licence_months = models.PositiveSmallIntegerField(null=True, blank=True)
    is_extra = models.BooleanField("offered as an extra", default=False)
    retired = models.BooleanField(default=False)

    objects = PriceItemManager()

    class Meta:
        ordering = ["is_extra", "name", "pk"]
        constraints = [
            models.CheckConstraint(
                name="price_is_not_negative",
                condition=Q(unit_price_minor__gte=0) & Q(cost_minor__gte=0),
            ),
            models.CheckConstraint(
                name="price_tax_is_a_share",
                condition=Q(tax_rate_basis_points__isnull=True)
                | Q(tax_rate_basis_points__lte=10_000),
            ),
        ]

    def __str__(self) -> str:
        return self.name

    def rate_under(self, profile: StudioProfile) -> int:
        """Return its tax rate in basis points; none where no tax is charged."""
        if not profile.tax_registered:
            return 0
        own = self.tax_rate_basis_points
        return profile.tax_rate_basis_points if own is None else own

    @property
    def price(self) -> Money:
        """The price of one."""
        return Money.from_minor(self.unit_price_minor, StudioProfile.load().currency)


class PackagePart(models.Model):
    """So many of one price inside a package."""

    package = models.ForeignKey(PriceItem, models.CASCADE, related_name="parts")
    item = models.ForeignKey(PriceItem, models.PROTECT, related_name="+")
    position = models.PositiveSmallIntegerField()
    quantity_thousandths = models.BigIntegerField(default=1000)

    class Meta:
        ordering = ["position", "pk"]
        constraints = [
            models.CheckConstraint(
                name="package_part_is_some", condition=Q(quantity_thousandths__gt=0)
            ),
        ]

    def __str__(self) -> str:
        return f"{self.item} in {self.package}"


class RateChange(models.Model):
    """From a day on, one rate of tax becomes another."""

    from_on = models.DateField()
    was_basis_points = models.PositiveIntegerField()
    becomes_basis_points = models.PositiveIntegerField()

    class Meta:
        ordering = ["from_on", "pk"]
        constraints = [
            models.UniqueConstraint(
                name="rate_changes_once_a_day", fields=["from_on", "was_basis_points"]
            ),
            models.CheckConstraint(
                name="rate_change_is_a_share",
                condition=Q(was_basis_points__lte=10_000)
                & Q(becomes_basis_points__lte=10_000),
            ),
        ]

    def __str__(self) -> str:
        return f"{self.was_basis_points} to {self.becomes_basis_points}"
