"""The lines of a quote as they are typed."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Any, Final, cast

from django import forms

from invoicing.prices.models import PriceItem
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
    usual = int(profile.tax_rate * 100)
    costs = {f"L{line.pk}": line.cost_minor for line in lines}
    costs |= {f"P{item.pk}": item.cost_minor for item in items}
    return LineDesk(
        currency=quote.currency,
        rates=(usual, *sorted(rates - {usual}, reverse=True)),
        shows_costs=shows_costs,
        costs=costs,
    )


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
    source = forms.CharField(required=False, max_length=20, widget=forms.HiddenInput)

    def __init__(self, *args: Any, desk: LineDesk, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.desk = desk
        for name in ("price", "cost"):
            cast("MoneyField", self.fields[name]).use_currency(desk.currency)
        self.fields["unit"].widget.attrs["list"] = "units"
        cast("forms.ChoiceField", self.fields["rate"]).choices = [
            (rate, f"{plain_number(Decimal(rate) / 100)}%") for rate in desk.rates
        ]
        if len(desk.rates) == 1:
            del self.fields["rate"]
        if not desk.shows_costs:
            del self.fields["cost"]

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
            "cost": _decimal(line.cost_minor, quote.currency) or None,
            "source": f"L{line.pk}",
        }
        for line in quote.lines.all()
    ]


def posted_item(
    item: PriceItem, price_minor: int, desk: LineDesk, row: str
) -> dict[str, str]:
    """Return a price-list item as the fields of a row would post it."""
    posted = {
        f"{row}-description": item.name,
        f"{row}-detail": item.detail,
        f"{row}-quantity": "1",
        f"{row}-unit": item.unit,
        f"{row}-price": str(_decimal(price_minor, desk.currency)),
        f"{row}-rate": str(item.rate_under(StudioProfile.load())),
        f"{row}-source": f"P{item.pk}",
    }
    if desk.shows_costs and item.cost_minor:
        posted[f"{row}-cost"] = str(_decimal(item.cost_minor, desk.currency))
    if item.is_extra:
        posted[f"{row}-optional"] = "on"
    return posted


def _decimal(minor: int, currency: str) -> Decimal:
    return decimal_from_minor(minor, exponent(currency))
