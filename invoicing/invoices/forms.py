"""Forms of the money pages."""

from __future__ import annotations

from decimal import Decimal
from typing import Any, Final, cast

from crispy_forms.helper import FormHelper
from django import forms

from invoicing.invoices.content import ContentLine
from invoicing.invoices.operations import DraftChange
from invoicing.invoices.treatments import SHORT
from studio.forms import (
    MoneyField,
    StudioForm,
    page_helper,
    row,
    studio_lines,
    wide,
)
from studio.money import Money
from studio.profile.models import StudioProfile, TaxCategory

ALONE: Final = frozenset({TaxCategory.OUTSIDE})
"""What cannot stand beside lines of another category."""


def _figures() -> forms.TextInput:
    attrs = {"inputmode": "decimal", "class": "width-4", "maxlength": "12"}
    return forms.TextInput(attrs=attrs)


class DraftForm(StudioForm):
    """What may be changed in a draft apart from its lines."""

    treatment = forms.ChoiceField(
        label="Tax treatment",
        required=False,
        choices=TaxCategory.choices,
        help_text="Of all lines that say nothing else. Check your local rules",
    )
    due_days = forms.IntegerField(
        label="Days to pay", min_value=0, max_value=365, help_text="From the issue on."
    )
    simplified = forms.BooleanField(
        label="Simplified invoice",
        required=False,
        help_text="Without the client’s address. For private clients and small sums",
    )
    note = forms.CharField(
        label="Words on the invoice",
        required=False,
        max_length=2000,
        widget=forms.Textarea(attrs={"rows": 3}),
    )
    version = forms.IntegerField(widget=forms.HiddenInput)

    def __init__(self, *args: Any, profile: StudioProfile, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        cast("Any", self.fields["treatment"]).unmarked = True
        if not profile.tax_registered:
            del self.fields["treatment"]
        if not profile.simplified_limit_minor:
            del self.fields["simplified"]

    @property
    def helper(self) -> FormHelper:
        """How crispy draws the form: without what the studio does not use."""
        first = [name for name in ("treatment",) if name in self.fields]
        asked = [name for name in ("simplified",) if name in self.fields]
        days = row(*(wide(name, 8) for name in first), wide("due_days", 4, box=4))
        return page_helper(days, *asked, "note", "version", summary=False)


class StageForm(StudioForm):
    """What a stage is for, and what it comes to."""

    what = forms.CharField(
        label="What it is for",
        max_length=200,
        help_text="Such as: the first of three sessions",
    )
    amount = MoneyField("GBP", label="How much")

    layout = ("what", row(wide("amount", 5)))

    def __init__(self, *args: Any, currency: str, tax_name: str, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        cast("MoneyField", self.fields["amount"]).use_currency(currency)
        if tax_name:
            self.fields["amount"].help_text = f"With {tax_name} in it"
        self.currency = currency

    @property
    def minor(self) -> int:
        """What was typed, in minor units."""
        return Money(self.cleaned_data["amount"], self.currency).minor


class DraftLineForm(StudioForm):
    """One line of a draft; a `remark` stands below it."""

    remark = ""

    description = forms.CharField(max_length=200)
    quantity = forms.DecimalField(
        min_value=Decimal("0.001"),
        max_value=Decimal(1_000_000),
        decimal_places=3,
        error_messages={"min_value": "Write how many, above nothing."},
        widget=_figures(),
    )
    price = MoneyField("GBP")
    rate = forms.DecimalField(
        label="Rate, %",
        min_value=0,
        max_value=100,
        decimal_places=2,
        widget=_figures(),
    )
    treatment = forms.ChoiceField(
        label="Tax",
        required=False,
        widget=forms.Select(attrs={"class": "width-10"}),
        choices=[
            ("", "As the invoice"),
            (TaxCategory.STANDARD.value, "By rate"),
            (TaxCategory.ZERO.value, "Zero-rated"),
            *((code, words) for code, words in SHORT.items() if code not in ALONE),
        ],
    )
    detail = forms.CharField(required=False, max_length=400, widget=forms.HiddenInput)
    unit = forms.CharField(required=False, max_length=40, widget=forms.HiddenInput)

    def __init__(
        self, *args: Any, currency: str, registered: bool, **kwargs: Any
    ) -> None:
        super().__init__(*args, **kwargs)
        cast("MoneyField", self.fields["price"]).use_currency(currency)
        if not registered:
            del self.fields["rate"], self.fields["treatment"]

    def line(self, currency: str) -> ContentLine:
        """Return the line that was typed."""
        figures = self.cleaned_data
        return ContentLine(
            description=figures["description"],
            detail=figures["detail"],
            unit=figures["unit"],
            quantity_thousandths=int(figures["quantity"] * 1000),
            unit_price_minor=Money(figures["price"], currency).minor,
            tax_rate_basis_points=int(figures.get("rate", 0) * 100),
            treatment=figures.get("treatment", ""),
        )


DraftLines = studio_lines(DraftLineForm, extra=0)


def change_from(form: DraftForm, lines: tuple[ContentLine, ...]) -> DraftChange:
    """Return the change that a valid form asks for."""
    data = form.cleaned_data
    return DraftChange(
        lines=lines,
        due_days=data["due_days"],
        note=data["note"],
        treatment=data.get("treatment", ""),
        simplified=data.get("simplified", False),
    )
