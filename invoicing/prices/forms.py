"""The form of one price."""

from __future__ import annotations

from decimal import Decimal
from typing import Any, cast

from crispy_forms.helper import FormHelper
from django import forms

from invoicing.prices.models import PriceItem
from studio.forms import MoneyField, StudioForm, page_helper, row
from studio.money import Money, decimal_from_minor, exponent
from studio.profile.models import StudioProfile
from studio.wording import plain_number


class PriceForm(StudioForm):
    """What is sold, for how much, and what it costs the studio itself."""

    name = forms.CharField(label="What", max_length=200)
    detail = forms.CharField(label="What is in it", required=False, max_length=400)
    unit = forms.CharField(
        required=False, max_length=40, help_text="Such as session, hour, mile"
    )
    price = MoneyField("GBP")
    cost = MoneyField(
        "GBP",
        label="Your own cost",
        required=False,
        help_text="Of one; only you see it",
    )
    rate = forms.DecimalField(
        label="Tax, %",
        required=False,
        min_value=0,
        max_value=100,
        decimal_places=2,
        help_text="Your usual rate where empty",
        widget=forms.TextInput(attrs={"inputmode": "decimal", "maxlength": "6"}),
    )
    is_extra = forms.BooleanField(
        label="Offer it as an extra that the client may tick", required=False
    )
    retired = forms.BooleanField(label="No longer sold", required=False)

    def __init__(self, *args: Any, profile: StudioProfile, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.currency = currency = profile.currency
        self.fields["price"].help_text = _basis_words(profile)
        if not profile.tax_registered:
            del self.fields["rate"]
        for name in ("price", "cost"):
            cast("MoneyField", self.fields[name]).use_currency(currency)

    @property
    def helper(self) -> FormHelper:
        """How the form is drawn: a tax rate only where tax is charged."""
        rows = [row("unit", "price")]
        own = [name for name in ("rate", "cost") if name in self.fields]
        rows.append(row(*own))
        return page_helper("name", "detail", *rows, "is_extra", "retired")

    def details(self) -> dict[str, Any]:
        """Return the item's fields."""
        data = self.cleaned_data
        cost = data["cost"]
        details = {
            "name": data["name"],
            "detail": data["detail"],
            "unit": data["unit"],
            "unit_price_minor": Money(data["price"], self.currency).minor,
            "cost_minor": Money(cost, self.currency).minor if cost else 0,
            "is_extra": data["is_extra"],
            "retired": data["retired"],
        }
        if "rate" in self.fields:
            rate = data["rate"]
            details["tax_rate_basis_points"] = None if rate is None else int(rate * 100)
        return details


def _basis_words(profile: StudioProfile) -> str:
    if not profile.tax_registered:
        return "Of one, as the client pays it"
    inside = profile.list_prices_include_tax
    return f"Of one, {'with' if inside else 'before'} {profile.tax_name}"


def initial_of(item: PriceItem, profile: StudioProfile) -> dict[str, Any]:
    """Return what the form shows of a price that stands."""
    digits = exponent(profile.currency)
    rate = item.tax_rate_basis_points
    return {
        "name": item.name,
        "detail": item.detail,
        "unit": item.unit,
        "price": decimal_from_minor(item.unit_price_minor, digits),
        "cost": decimal_from_minor(item.cost_minor, digits) or None,
        "rate": None if rate is None else plain_number(Decimal(rate) / 100),
        "is_extra": item.is_extra,
        "retired": item.retired,
    }
