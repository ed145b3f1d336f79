"""The forms of one price, of what is in a package, and of dated rates of tax."""

from __future__ import annotations

from decimal import Decimal
from typing import Any, Final, cast

from crispy_forms.helper import FormHelper
from django import forms
from django.db.models import Q, QuerySet

from invoicing.prices.models import PackagePart, PriceItem, PriceKind, RateChange
from invoicing.prices.rates import Change
from studio.forms import (
    DateField,
    MoneyField,
    StudioForm,
    page_helper,
    row,
    studio_lines,
)
from studio.money import Money, decimal_from_minor, exponent
from studio.profile.models import DistanceUnit, StudioProfile
from studio.wording import plain_number

OF_KIND: Final[dict[str, tuple[str, ...]]] = {
    PriceKind.TRAVEL: ("up_to_distance",),
    PriceKind.LICENCE: ("licence_who", "licence_where", "licence_months"),
}
STARTS: Final[dict[str, str]] = {
    PriceKind.PACKAGE: "session",
    PriceKind.HOUR: "hour",
    PriceKind.PRINT: "print",
    PriceKind.LICENCE: "licence",
    PriceKind.TRAVEL: "journey",
}

_SHARE: Final[dict[str, Any]] = {
    "min_value": 0,
    "max_value": 100,
    "decimal_places": 2,
    "widget": forms.TextInput(attrs={"inputmode": "decimal", "maxlength": "6"}),
}


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
    up_to_distance = forms.IntegerField(
        label="One way up to",
        required=False,
        min_value=1,
        max_value=100_000,
        help_text="Empty: the price of each, there and back, beyond every band",
    )
    licence_who = forms.CharField(
        label="Who may use the pictures",
        required=False,
        max_length=100,
        help_text="Such as the client, or the client and its printers",
    )
    licence_where = forms.CharField(
        label="Where and what for",
        required=False,
        max_length=160,
        help_text="Such as website and brochure, UK",
    )
    licence_months = forms.IntegerField(
        label="For how long, months from delivery",
        required=False,
        min_value=1,
        max_value=1200,
        help_text="Empty: without an end",
    )
    is_extra = forms.BooleanField(
        label="Offer it as an extra that the client may tick", required=False
    )
    retired = forms.BooleanField(label="No longer sold", required=False)

    def __init__(
        self,
        *args: Any,
        profile: StudioProfile,
        kind: PriceKind = PriceKind.ITEM,
        **kwargs: Any,
    ) -> None:
        super().__init__(*args, **kwargs)
        self.kind = kind
        self._keep_fields_of_kind(profile)
        self.currency = currency = profile.currency
        self.fields["price"].help_text = _basis_words(profile)
        if not profile.tax_registered:
            del self.fields["rate"]
        for name in ("price", "cost"):
            cast("MoneyField", self.fields[name]).use_currency(currency)

    def _keep_fields_of_kind(self, profile: StudioProfile) -> None:
        kept = OF_KIND.get(self.kind, ())
        for name in {name for names in OF_KIND.values() for name in names}:
            if name not in kept:
                del self.fields[name]
            elif isinstance(self.fields[name], forms.IntegerField):
                self.fields[name].widget.attrs["class"] = "width-4"
        if self.kind in STARTS:
            self.initial.setdefault("unit", STARTS[self.kind])
        if "up_to_distance" in self.fields:
            unit = DistanceUnit(profile.distance_unit)
            cast("Any", self.fields["up_to_distance"]).after = unit.label.lower()

    @property
    def helper(self) -> FormHelper:
        """How the form is drawn: a tax rate only where tax is charged."""
        rows = [row("unit", "price")]
        own = [name for name in ("rate", "cost") if name in self.fields]
        rows.append(row(*own))
        kinds = OF_KIND.get(self.kind, ())
        return page_helper("name", *kinds, "detail", *rows, "is_extra", "retired")

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
            "kind": self.kind,
        }
        details |= {name: data[name] for name in OF_KIND.get(self.kind, ())}
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
        **{name: getattr(item, name) for name in OF_KIND.get(item.kind, ())},
        "is_extra": item.is_extra,
        "retired": item.retired,
    }


class PartForm(StudioForm):
    """So many of one price in a package."""

    item = forms.ModelChoiceField(
        PriceItem.objects.none(), label="What", required=False
    )
    quantity = forms.DecimalField(
        label="How many",
        required=False,
        min_value=Decimal("0.001"),
        max_value=10_000,
        decimal_places=3,
        widget=forms.TextInput(attrs={"inputmode": "decimal", "maxlength": "9"}),
    )

    def __init__(self, *args: Any, package: PriceItem, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        field = cast("forms.ModelChoiceField[PriceItem]", self.fields["item"])
        field.queryset = _packable(package)
        field.empty_label = "–"

    def part(self) -> tuple[int, int] | None:
        """Return the item's key and so many thousandths; None for an empty line."""
        data = self.cleaned_data
        if not data.get("item") or data.get("DELETE"):
            return None
        return data["item"].pk, int((data.get("quantity") or 1) * 1000)


class RateChangeForm(StudioForm):
    """From a day on, one rate of tax becomes another."""

    from_on = DateField(label="From", required=False)
    was = forms.DecimalField(label="What is now, %", required=False, **_SHARE)
    becomes = forms.DecimalField(label="Becomes, %", required=False, **_SHARE)

    def clean(self) -> dict[str, Any]:
        """Ask for the day and both rates."""
        data: dict[str, Any] = super().clean() or self.cleaned_data
        given = [data.get(name) is not None for name in ("from_on", "was", "becomes")]
        if any(given) and not all(given) and not self.errors:
            self.add_error("becomes", "Give the day and both rates.")
        return data

    def change(self) -> Change | None:
        """Return the change; None for an empty line."""
        data = self.cleaned_data
        if data.get("from_on") is None or data.get("DELETE"):
            return None
        return Change(
            data["from_on"], int(data["was"] * 100), int(data["becomes"] * 100)
        )


PartLines = studio_lines(PartForm, extra=4, most=40)
RateChanges = studio_lines(RateChangeForm, extra=2, most=40)


def initial_parts(package: PriceItem) -> list[dict[str, Any]]:
    """Return what the lines show of a package's parts."""
    rows = PackagePart.objects.filter(package=package)
    return [
        {
            "item": row.item_id,
            "quantity": plain_number(Decimal(row.quantity_thousandths) / 1000),
        }
        for row in rows
    ]


def initial_changes() -> list[dict[str, Any]]:
    """Return what the lines show of the changes that stand."""
    return [
        {
            "from_on": row.from_on,
            "was": plain_number(Decimal(row.was_basis_points) / 100),
            "becomes": plain_number(Decimal(row.becomes_basis_points) / 100),
        }
        for row in RateChange.objects.all()
    ]


def _packable(package: PriceItem) -> QuerySet[PriceItem]:
    kept = package.parts.values("item")
    items = PriceItem.objects.exclude(kind=PriceKind.PACKAGE)
    return items.filter(Q(retired=False) | Q(pk__in=kept))
