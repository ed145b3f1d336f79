"""Forms of the money pages."""

from __future__ import annotations

from decimal import Decimal

from django import forms

from invoicing.invoices.content import ContentLine
from invoicing.invoices.operations import DraftChange
from studio.forms import (
    MoneyField,
    StudioForm,
    row,
    studio_lines,
    wide,
)
from studio.money import Money


class DraftForm(StudioForm):
    """What may be changed in a draft apart from its lines."""

    due_days = forms.IntegerField(
        label="Days to pay", min_value=0, max_value=365, help_text="From the issue on."
    )
    note = forms.CharField(
        label="Words on the invoice",
        required=False,
        max_length=2000,
        widget=forms.Textarea(attrs={"rows": 3}),
    )
    version = forms.IntegerField(widget=forms.HiddenInput)

    layout = (row(wide("due_days", 3)), "note", "version")


class DraftLineForm(StudioForm):
    """One line of a draft."""

    description = forms.CharField(max_length=200)
    quantity = forms.DecimalField(
        min_value=Decimal("0.001"), max_value=Decimal(1_000_000), decimal_places=3
    )
    price = MoneyField("GBP")
    rate = forms.DecimalField(
        label="Rate, %", min_value=0, max_value=100, decimal_places=2
    )

    def line(self, currency: str) -> ContentLine:
        """Return the line that was typed."""
        figures = self.cleaned_data
        return ContentLine(
            description=figures["description"],
            quantity_thousandths=int(figures["quantity"] * 1000),
            unit_price_minor=Money(figures["price"], currency).minor,
            tax_rate_basis_points=int(figures["rate"] * 100),
        )


DraftLines = studio_lines(DraftLineForm, extra=0)


def change_from(form: DraftForm, lines: tuple[ContentLine, ...]) -> DraftChange:
    """Return the change that a valid form asks for."""
    return DraftChange(
        lines=lines,
        due_days=form.cleaned_data["due_days"],
        note=form.cleaned_data["note"],
    )


class CreditForm(StudioForm):
    """Why an invoice is taken back."""

    because = forms.CharField(
        label="Why is it taken back?",
        max_length=400,
        help_text="Printed on the credit note. “Wrong address”, “Session cancelled”.",
    )
    send = forms.BooleanField(
        label="Send the credit note to the client", required=False, initial=True
    )

    layout = ("because", "send")
