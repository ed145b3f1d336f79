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
    cost_minor = models.BigIntegerField(default=0)
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
        ]

    def __str__(self) -> str:
        return self.name

    @property
    def price(self) -> Money:
        """The price of one."""
        return Money.from_minor(self.unit_price_minor, StudioProfile.load().currency)
