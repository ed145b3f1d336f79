"""The lines of a quote as they are typed."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Any, Final, cast

from django import forms

from invoicing.prices.models import PriceItem, PriceKind
from invoicing.prices.packages import package_lines
from invoicing.prices.rates import DatedRates
from invoicing.quotes.models import Quote
from invoicing.quotes.operations import LineWish
from studio.forms import MoneyField, StudioForm, studio_lines
from studio.money import Money, decimal_from_minor, exponent
from studio.profile.models import StudioProfile
from studio.wording import plain_number

HIGHEST_PRICE: Final = Decimal(100_000_000)
MOST: Final = Decimal(100_000)
PREFIX: Final = "line"
NEEDED: Final = {"description", "quantity", "price"}
UNITS: Final = ("session", "hour", "day", "picture", "print", "licence", "mile", "each")


@dataclass(frozen=True, slots=True, kw_only=True)
class LineDesk:
    """What a form of a line must know: money, tax rates, and whether costs show.

    `costs` gives the studio's own cost of one by where a line came from, for those
    who write quotes and may not see costs.
    """

    currency: str
    rates: tuple[int, ...]
    shows_costs: bool = False
    costs: dict[str, int] = field(default_factory=dict)


def desk_for(quote: Quote, *, shows_costs: bool) -> LineDesk:
    """Return the desk at which a quote's lines are typed."""
    profile = StudioProfile.load()
    lines = list(quote.lines.all()) if quote.pk else []
    items = list(PriceItem.objects.all())
    rates = {line.tax_rate_basis_points for line in lines}
    rates |= {item.rate_under(profile) for item in items if not item.retired}
    if profile.tax_registered:
        rates |= {change.becomes for change in DatedRates.load().changes}
    usual = int(profile.tax_rate * 100)
    costs = {f"L{line.pk}": line.cost_minor for line in lines}
    costs |= {f"P{item.pk}": item.cost_minor for item in items}
    if not shows_costs:
        costs |= _package_costs(items, quote, profile)
    return LineDesk(
        currency=quote.currency,
        rates=(usual, *sorted(rates - {usual}, reverse=True)),
        shows_costs=shows_costs,
        costs=costs,
    )


def _package_costs(
    items: Iterable[PriceItem], quote: Quote, profile: StudioProfile
) -> dict[str, int]:
    packages = [item for item in items if item.kind == PriceKind.PACKAGE]
    return {
        f"P{item.pk}.{place}": line.cost_minor
        for item in packages
        for place, line in enumerate(package_lines(item, quote.basis, profile))
    }


class QuantityField(forms.DecimalField):
    """A quantity with up to three decimals; a comma is a point."""

    def __init__(self, **kwargs: Any) -> None:
        attrs = {"inputmode": "decimal", "autocomplete": "off", "maxlength": "12"}
        kwargs.setdefault("widget", forms.TextInput(attrs=attrs))
        super().__init__(
            min_value=Decimal("0.001"), max_value=MOST, decimal_places=3, **kwargs
        )

    def to_python(self, value: Any) -> Decimal | None:  # type: ignore[override]
        """Return the quantity, or None where nothing was written."""
        if isinstance(value, str):
            value = value.replace(",", ".")
        return super().to_python(value)


class QuoteLineForm(StudioForm):
    """One line: what, how many, at what price; and what the client never sees."""

    description = forms.CharField(max_length=200)
    quantity = QuantityField(initial=1)
    unit = forms.CharField(required=False, max_length=40)
    price = MoneyField(highest=HIGHEST_PRICE)
    rate = forms.TypedChoiceField(label="Tax", coerce=int)
    detail = forms.CharField(
        required=False,
        max_length=400,
        help_text="Printed small under the line.",
    )
    optional = forms.BooleanField(
        label="An extra that the client may tick", required=False
    )
    cost = MoneyField(
        label="Your own cost of one",
        required=False,
        highest=HIGHEST_PRICE,
        help_text="Never shown to the client.",
    )
    package = forms.CharField(
        label="Only in package",
        required=False,
        max_length=120,
        help_text="Lines of one name are a package. Offer two, and the client chooses.",
    )
    licence_months = forms.IntegerField(
        label="Use runs out after, months",
        required=False,
        min_value=1,
        max_value=1200,
        help_text="From delivery. Empty: no end.",
    )
    source = forms.CharField(required=False, max_length=20, widget=forms.HiddenInput)

    def __init__(self, *args: Any, desk: LineDesk, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.desk = desk
        for name in ("price", "cost"):
            cast("MoneyField", self.fields[name]).use_currency(desk.currency)
        self.fields["unit"].widget.attrs["list"] = "units"
        self.fields["package"].widget.attrs["list"] = "packages"
        cast("forms.ChoiceField", self.fields["rate"]).choices = [
            (rate, f"{plain_number(Decimal(rate) / 100)}%") for rate in desk.rates
        ]
        if len(desk.rates) == 1:
            del self.fields["rate"]
        if not desk.shows_costs:
            del self.fields["cost"]

    def clean(self) -> dict[str, Any]:
        """Refuse an extra that is to come in one package only."""
        cleaned: dict[str, Any] = super().clean() or self.cleaned_data
        if cleaned.get("optional") and cleaned.get("package"):
            self.add_error(
                "package",
                "An extra goes with every package. Clear the name or the tick.",
            )
        return cleaned

    @property
    def is_licence(self) -> bool:
        """Whether the line sells a use, so that it may run out."""
        return "licence" in (self["unit"].value() or "") or bool(
            self["licence_months"].value()
        )

    def wish(self) -> LineWish:
        """Return the line that was typed."""
        data = self.cleaned_data
        return LineWish(
            description=data["description"],
            detail=data["detail"],
            unit=data["unit"],
            quantity_thousandths=int(data["quantity"] * 1000),
            unit_price_minor=Money(data["price"], self.desk.currency).minor,
            tax_rate_basis_points=data.get("rate", self.desk.rates[0]),
            cost_minor=self._cost(),
            optional=data["optional"],
            package=data["package"],
            licence_months=data["licence_months"],
        )

    def _cost(self) -> int:
        if not self.desk.shows_costs:
            return self.desk.costs.get(self.cleaned_data["source"], 0)
        cost = self.cleaned_data["cost"]
        return Money(cost, self.desk.currency).minor if cost else 0


QuoteLines = studio_lines(QuoteLineForm, extra=1)


def typed_lines(forms_of_lines: Iterable[Any]) -> list[LineWish | None]:
    """Return each row's line; None where it is empty, not complete or taken out."""
    return [one.wish() if _is_complete(one) else None for one in forms_of_lines]


def _is_complete(one: Any) -> bool:
    if not (one.is_valid() and one.has_changed()):
        return False
    data = one.cleaned_data
    return data.keys() >= NEEDED and not data.get("DELETE")


def initial_lines(quote: Quote) -> list[dict[str, Any]]:
    """Return what the builder shows of a quote's lines."""
    return [
        {
            "description": line.description,
            "detail": line.detail,
            "quantity": plain_number(line.content().quantity),
            "unit": line.unit,
            "price": _decimal(line.unit_price_minor, quote.currency),
            "rate": line.tax_rate_basis_points,
            "optional": line.optional,
            "package": line.package,
            "licence_months": line.licence_months,
            "cost": _decimal(line.cost_minor, quote.currency) or None,
            "source": f"L{line.pk}",
        }
        for line in quote.lines.all()
    ]


def in_order(lines: Iterable[LineWish]) -> list[LineWish]:
    """Return lines as they are read: in every package, by package, then extras.

    Without packages they stay as they were typed.
    """
    listed = list(lines)
    packages = list(dict.fromkeys(line.package for line in listed if line.package))
    if not packages:
        return listed
    places = {name: place for place, name in enumerate(packages, start=1)}
    return sorted(
        listed,
        key=lambda line: (line.optional, places.get(line.package, 0)),
    )


def _decimal(minor: int, currency: str) -> Decimal:
    return decimal_from_minor(minor, exponent(currency))
