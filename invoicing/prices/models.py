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


class PriceItem(models.Model):
    """One thing with a price, as the list says it: with tax in it or before tax."""

    name = models.CharField(max_length=200)
    detail = models.CharField(max_length=400, blank=True)
    unit = models.CharField(max_length=40, blank=True)
    unit_price_minor = models.BigIntegerField()
    cost_minor = models.BigIntegerField("own cost of one", default=0)
    tax_rate_basis_points = models.PositiveIntegerField(
        null=True, blank=True, help_text="The studio's usual rate where empty."
    )
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
