"""The form of one price."""

from __future__ import annotations

from typing import Any, cast

from django import forms

from invoicing.prices.models import PriceItem
from studio.forms import MoneyField, StudioForm, row, wide
from studio.money import Money, decimal_from_minor, exponent


class PriceForm(StudioForm):
    """What is sold, for how much, and what it costs the studio itself."""

    name = forms.CharField(label="What", max_length=200)
    detail = forms.CharField(label="What is in it", required=False, max_length=400)
    unit = forms.CharField(
        required=False, max_length=40, help_text="session, picture, hour, mile"
    )
    price = MoneyField("GBP")
    cost = MoneyField("GBP", label="Your own cost", required=False)
    is_extra = forms.BooleanField(
        label="Offer it as an extra that the client may tick", required=False
    )
    retired = forms.BooleanField(label="No longer sold", required=False)

    layout = (
        "name",
        "detail",
        row(wide("unit", 4), wide("price", 4), wide("cost", 4)),
        "is_extra",
        "retired",
    )

    def __init__(self, *args: Any, currency: str, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.currency = currency
        for name in ("price", "cost"):
            cast("MoneyField", self.fields[name]).use_currency(currency)

    def details(self) -> dict[str, Any]:
        """Return the item's fields."""
        data = self.cleaned_data
        cost = data["cost"]
        return {
            "name": data["name"],
            "detail": data["detail"],
            "unit": data["unit"],
            "unit_price_minor": Money(data["price"], self.currency).minor,
            "cost_minor": Money(cost, self.currency).minor if cost else 0,
            "is_extra": data["is_extra"],
            "retired": data["retired"],
        }


def initial_of(item: PriceItem, currency: str) -> dict[str, Any]:
    """Return what the form shows of a price that stands."""
    digits = exponent(currency)
    return {
        "name": item.name,
        "detail": item.detail,
        "unit": item.unit,
        "price": decimal_from_minor(item.unit_price_minor, digits),
        "cost": decimal_from_minor(item.cost_minor, digits) or None,
        "is_extra": item.is_extra,
        "retired": item.retired,
    }
