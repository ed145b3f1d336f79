"""Forms of quotes: the builder, the review, the client's page, a recorded yes."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from decimal import Decimal
from typing import Any

from django import forms

from invoicing.quotes.models import How, Quote
from invoicing.quotes.operations import LineWish, QuoteTerms
from studio.forms import (
    DateField,
    MoneyField,
    StudioForm,
    row,
    studio_lines,
    wide,
)
from studio.money import Money, decimal_from_minor, exponent
from studio.profile.models import DepositKind, StudioProfile


class QuoteForm(StudioForm):
    """What a quote says apart from its lines."""

    summary = False

    valid_until_on = DateField(label="Price holds until")
    pictures_by_on = DateField(label="Pictures ready by", required=False)
    opening_note = forms.CharField(
        label="Opening note",
        required=False,
        max_length=2000,
        help_text="Printed above the prices. Two or three sentences read best.",
        widget=forms.Textarea(attrs={"rows": 4}),
    )
    included = forms.CharField(
        label="What is included, one thing a line",
        required=False,
        max_length=2000,
        widget=forms.Textarea(attrs={"rows": 4}),
    )
    discount_percent = forms.DecimalField(
        label="Discount, %",
        required=False,
        min_value=0,
        max_value=100,
        decimal_places=2,
    )
    discount = MoneyField("GBP", label="or a round sum off", required=False)
    deposit_percent = forms.IntegerField(
        label="Deposit, %", required=False, min_value=0, max_value=100
    )
    deposit = MoneyField("GBP", label="or a round sum", required=False)
    deposit_days = forms.IntegerField(
        label="Days to pay the deposit", min_value=0, max_value=365
    )
    payment_days = forms.IntegerField(
        label="Days to pay the rest", min_value=0, max_value=365
    )
    edit_version = forms.IntegerField(widget=forms.HiddenInput, required=False)

    layout = (
        row(wide("valid_until_on", 6), wide("pictures_by_on", 6)),
        row(
            wide("discount_percent", 3),
            wide("discount", 3),
            wide("deposit_percent", 3),
            wide("deposit", 3),
        ),
        row(wide("deposit_days", 6), wide("payment_days", 6)),
        "opening_note",
        "included",
        "edit_version",
    )

    def __init__(self, *args: Any, currency: str, today: date, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.currency, self.today = currency, today
        for name in ("discount", "deposit"):
            self.fields[name].use_currency(currency)

    def clean_valid_until_on(self) -> date:
        """Refuse a price that has lapsed before it is read."""
        until: date = self.cleaned_data["valid_until_on"]
        if until < self.today:
            raise forms.ValidationError(
                f"The date must be today, {self.today:%d %B}, or later."
            )
        return until

    def clean(self) -> dict[str, Any]:
        """Refuse a discount or deposit that is given both ways."""
        cleaned: dict[str, Any] = super().clean() or self.cleaned_data
        for percent, fixed in (
            ("discount_percent", "discount"),
            ("deposit_percent", "deposit"),
        ):
            if cleaned.get(percent) and cleaned.get(fixed):
                self.add_error(fixed, "Give a percentage or a round sum, not both.")
        return cleaned

    def terms(self) -> QuoteTerms:
        """Return what was typed."""
        data = self.cleaned_data
        fixed = self._minor(data["deposit"])
        return QuoteTerms(
            valid_until_on=data["valid_until_on"],
            pictures_by_on=data["pictures_by_on"],
            opening_note=data["opening_note"],
            included=data["included"],
            discount_percent_hundredths=int((data["discount_percent"] or 0) * 100),
            discount_minor=self._minor(data["discount"]),
            deposit_kind=DepositKind.AMOUNT if fixed else DepositKind.PERCENT,
            deposit_percent=0 if fixed else data["deposit_percent"] or 0,
            deposit_minor=fixed,
            deposit_days=data["deposit_days"],
            payment_days=data["payment_days"],
        )

    def _minor(self, amount: Decimal | None) -> int:
        return Money(amount, self.currency).minor if amount else 0


class QuoteLineForm(StudioForm):
    """One line of a quote."""

    description = forms.CharField(max_length=200)
    quantity = forms.DecimalField(
        min_value=Decimal("0.001"),
        max_value=Decimal(1_000_000),
        decimal_places=3,
        initial=1,
    )
    unit = forms.CharField(required=False, max_length=40)
    price = MoneyField("GBP")
    optional = forms.BooleanField(label="Extra", required=False)
    detail = forms.CharField(required=False, max_length=400, widget=forms.HiddenInput)
    cost_minor = forms.IntegerField(
        required=False, min_value=0, max_value=10**12, widget=forms.HiddenInput
    )

    def wish(self, profile: StudioProfile) -> LineWish:
        """Return the line that was typed."""
        data = self.cleaned_data
        return LineWish(
            description=data["description"],
            detail=data["detail"],
            unit=data["unit"],
            quantity_thousandths=int(data["quantity"] * 1000),
            unit_price_minor=Money(data["price"], profile.currency).minor,
            tax_rate_basis_points=int(profile.tax_rate * 100),
            cost_minor=data["cost_minor"] or 0,
            optional=data["optional"],
        )


QuoteLines = studio_lines(QuoteLineForm, extra=1)


def wishes(lines: Iterable[Any], profile: StudioProfile) -> list[LineWish]:
    """Return the lines that were typed and not removed."""
    return [
        one.wish(profile)
        for one in lines
        if one.cleaned_data and not one.cleaned_data.get("DELETE")
    ]


def initial_terms(quote: Quote) -> dict[str, Any]:
    """Return what the builder shows of a quote."""
    digits = exponent(quote.currency)
    fixed = quote.deposit_kind == DepositKind.AMOUNT

    def money(minor: int) -> Decimal | None:
        return decimal_from_minor(minor, digits) if minor else None

    return {
        "valid_until_on": quote.valid_until_on,
        "pictures_by_on": quote.pictures_by_on,
        "opening_note": quote.opening_note,
        "included": quote.included,
        "discount_percent": (
            Decimal(quote.discount_percent_hundredths) / 100
            if quote.discount_percent_hundredths
            else None
        ),
        "discount": money(quote.discount_minor),
        "deposit_percent": None if fixed else quote.deposit_percent,
        "deposit": money(quote.deposit_minor) if fixed else None,
        "deposit_days": quote.deposit_days,
        "payment_days": quote.payment_days,
        "edit_version": quote.edit_version,
    }


def initial_lines(quote: Quote) -> list[dict[str, Any]]:
    """Return what the builder shows of a quote's lines."""
    digits = exponent(quote.currency)
    return [
        {
            "description": line.description,
            "detail": line.detail,
            "quantity": line.content().quantity,
            "unit": line.unit,
            "price": decimal_from_minor(line.unit_price_minor, digits),
            "optional": line.optional,
            "cost_minor": line.cost_minor,
        }
        for line in quote.lines.all()
    ]


class SendForm(StudioForm):
    """The letter that a quote goes out with."""

    subject = forms.CharField(max_length=200)
    body = forms.CharField(
        label="Words",
        max_length=4000,
        widget=forms.Textarea(attrs={"rows": 12}),
        help_text="{link} becomes the address of the client’s private page.",
    )


class AcceptForm(StudioForm):
    """The client's yes."""

    name = forms.CharField(
        label="Your full name",
        max_length=200,
        min_length=2,
        help_text="Typed here, it counts as your signature",
        widget=forms.TextInput(attrs={"autocomplete": "name"}),
    )
    may_show = forms.BooleanField(required=False)


class QuestionForm(StudioForm):
    """What a client asks."""

    words = forms.CharField(
        label="Your question, or another date that suits you",
        max_length=2000,
        widget=forms.Textarea(attrs={"rows": 4}),
    )


class RecordYesForm(StudioForm):
    """A yes that came by phone, e-mail or on paper."""

    name = forms.CharField(label="Who said yes", max_length=200)
    how = forms.ChoiceField(
        label="How",
        choices=[choice for choice in How.choices if choice[0] != How.PAGE],
        widget=forms.RadioSelect,
    )
    extras = forms.MultipleChoiceField(
        label="With these extras", required=False, widget=forms.CheckboxSelectMultiple
    )
    may_show = forms.BooleanField(
        label="They let the studio show the pictures", required=False
    )
    scan = forms.FileField(
        label="Scan or photograph of the signed paper",
        required=False,
        help_text="PDF, JPEG, PNG or WebP, 12 MB at most.",
    )

    layout = ("name", "how", "extras", "may_show", "scan")

    def __init__(self, *args: Any, quote: Quote, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        extras = [line for line in quote.lines.all() if line.optional]
        if extras:
            choices = [(str(line.pk), line.description) for line in extras]
            self.fields["extras"].choices = choices
            return
        del self.fields["extras"]
        self.layout = ("name", "how", "may_show", "scan")
