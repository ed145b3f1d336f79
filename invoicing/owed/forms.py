"""The forms of what is owed: a day, a reminder, a promise, the rates."""

from __future__ import annotations

import secrets
from datetime import date
from decimal import Decimal
from typing import Any, cast

from django import forms

from invoicing.owed.losses import Loss
from invoicing.periods.forms import PastDateField
from studio.forms import DateField, MoneyField, StudioForm, row, studio_lines
from studio.forms.days import Lean
from studio.money import Money


class AgesForm(StudioForm):
    """On which day it is asked, of whom, and for how large a debt."""

    on = DateField(label="As of", required=False, lean=Lean.BACK)
    words = forms.CharField(label="Client", required=False, max_length=100)
    least = MoneyField("GBP", label="Owes at least", required=False)
    most = MoneyField("GBP", label="at most", required=False)

    def __init__(self, *args: Any, currency: str, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for name in ("least", "most"):
            cast("MoneyField", self.fields[name]).use_currency(currency)


class SpanForm(StudioForm):
    """From when to when an account is shown."""

    first = DateField(label="From", required=False, lean=Lean.BACK)
    last = DateField(label="to", required=False, lean=Lean.BACK)

    def clean(self) -> dict[str, Any]:
        """Refuse days in the wrong order: the balance would not be of its day."""
        data = super().clean() or self.cleaned_data
        first, last = data.get("first"), data.get("last")
        if first and last and first > last:
            self.add_error("first", "That is after the day beside it.")
        return data


class ReminderForm(StudioForm):
    """The words of a reminder, before it goes."""

    step = forms.IntegerField(widget=forms.HiddenInput)
    subject = forms.CharField(max_length=200)
    words = forms.CharField(max_length=4000, widget=forms.Textarea(attrs={"rows": 12}))


class OneOfManyForm(ReminderForm):
    """One reminder among several; without its tick it stays here."""

    goes = forms.BooleanField(label="Send this one", required=False)

    layout = ("goes", "step", "subject", "words")


class LossForm(StudioForm):
    """How much of a debt is given up, from when, and why."""

    amount = MoneyField("GBP", label="How much")
    lost_on = PastDateField(label="From the day")
    because = forms.CharField(
        label="Why?", max_length=140, help_text="Such as: the firm is wound up"
    )
    form_key = forms.CharField(widget=forms.HiddenInput, max_length=64)

    layout = (row("amount", "lost_on"), "because", "form_key")

    def __init__(self, *args: Any, currency: str, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        cast("MoneyField", self.fields["amount"]).use_currency(currency)
        self.currency = currency
        self.initial.setdefault("form_key", secrets.token_hex(16))

    def loss(self) -> Loss:
        """Return what was typed."""
        data = self.cleaned_data
        return Loss(
            amount_minor=Money(data["amount"], self.currency).minor,
            lost_on=data["lost_on"],
            because=data["because"],
            form_key=data["form_key"],
        )


class PromiseForm(StudioForm):
    """By when a client said they would pay."""

    promised_on = DateField(label="Promised for", lean=Lean.AHEAD)
    note = forms.CharField(label="In their words", required=False, max_length=200)

    layout = (row("promised_on", "note"),)


class RateForm(StudioForm):
    """One rate for late business debts."""

    from_on = DateField(label="From", required=False, lean=Lean.BACK)
    percent = forms.DecimalField(
        label="A year, %",
        required=False,
        min_value=0,
        max_value=100,
        decimal_places=2,
        widget=forms.TextInput(attrs={"inputmode": "decimal", "maxlength": "6"}),
    )
    is_fixed = forms.BooleanField(label="Holds for the whole debt", required=False)

    def clean(self) -> dict[str, Any]:
        """Ask for both a day and a rate."""
        data = super().clean() or self.cleaned_data
        if (data.get("from_on") is None) != (data.get("percent") is None):
            self.add_error("percent", "Give the day and the rate.")
        return data

    def rate(self) -> tuple[date, int, bool] | None:
        """Return the rate; None for an empty line."""
        data = self.cleaned_data
        if data.get("from_on") is None or data.get("DELETE"):
            return None
        return data["from_on"], int(data["percent"] * 100), data["is_fixed"]


class BandForm(StudioForm):
    """One fixed sum, from so large a debt on."""

    least = MoneyField("GBP", label="Debts from", required=False)
    fixed = MoneyField("GBP", label="Fixed sum", required=False)

    def __init__(self, *args: Any, currency: str, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.currency = currency
        for name in ("least", "fixed"):
            cast("MoneyField", self.fields[name]).use_currency(currency)

    def band(self) -> tuple[int, int] | None:
        """Return least debt and sum in minor units; None for an empty line."""
        data = self.cleaned_data
        if not data.get("fixed") or data.get("DELETE"):
            return None
        least = data.get("least") or Decimal(0)
        return Money(least, self.currency).minor, Money(
            data["fixed"], self.currency
        ).minor


RateLines = studio_lines(RateForm, extra=2, most=40)
BandLines = studio_lines(BandForm, extra=2, most=10)
