"""The form that records a payment."""

from __future__ import annotations

import secrets
from typing import Any, cast

from django import forms

from invoicing.payments.models import Method
from studio.forms import DateField, MoneyField, StudioForm, row, wide
from studio.forms.days import Lean
from studio.money import Money


class PaymentForm(StudioForm):
    """What came in, when and how."""

    amount = MoneyField("GBP")
    received_on = DateField(label="Received on", lean=Lean.BACK)
    method = forms.ChoiceField(label="How", choices=Method.choices)
    reference = forms.CharField(
        label="Reference on the bank line", required=False, max_length=140
    )
    form_key = forms.CharField(widget=forms.HiddenInput, max_length=64)

    layout = (
        row(wide("amount", 4), wide("received_on", 4), wide("method", 4)),
        "reference",
        "form_key",
    )

    def __init__(self, *args: Any, currency: str, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        cast("MoneyField", self.fields["amount"]).use_currency(currency)
        self.currency = currency
        self.initial.setdefault("form_key", secrets.token_hex(16))

    @property
    def amount_minor(self) -> int:
        """The sum that was typed, in minor units."""
        return Money(self.cleaned_data["amount"], self.currency).minor

    def clean_amount(self) -> Any:
        """Refuse a payment of nothing."""
        amount = self.cleaned_data["amount"]
        if amount <= 0:
            raise forms.ValidationError("Give the sum that came in.")
        return amount


class ReversalForm(StudioForm):
    """Why a payment is taken back."""

    because = forms.CharField(label="What was wrong with it?", max_length=200)
