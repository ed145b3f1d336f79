"""The forms of the owner's own money."""

from __future__ import annotations

import secrets
from datetime import date
from typing import Any, cast

from django import forms

from invoicing.drawings.models import MovedBy
from invoicing.drawings.operations import Moved
from studio.forms import DateField, HintedRadios, MoneyField, StudioForm, row, wide
from studio.forms.days import Lean
from studio.money import Money


class MoveForm(StudioForm):
    """What the owner took out or put in."""

    way = forms.ChoiceField(
        label="What happened?",
        choices=[("out", "I took money out"), ("in", "I put money in")],
        widget=HintedRadios(
            {
                "out": "For yourself; no cost of the business",
                "in": "Of your own; no income of the business",
            }
        ),
    )
    amount = MoneyField("GBP")
    moved_on = DateField(label="On", lean=Lean.BACK)
    moved_by = forms.ChoiceField(label="Through", choices=MovedBy.choices)
    note = forms.CharField(label="Note", required=False, max_length=200)
    form_key = forms.CharField(widget=forms.HiddenInput, max_length=64)

    layout = (
        "way",
        row(wide("amount", 4), wide("moved_on", 4), wide("moved_by", 4)),
        "note",
        "form_key",
    )

    def __init__(self, *args: Any, currency: str, today: date, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.currency, self.today = currency, today
        cast("MoneyField", self.fields["amount"]).use_currency(currency)
        self.initial = {"way": "out", "moved_on": today, **self.initial}
        self.initial.setdefault("form_key", secrets.token_hex(16))

    def clean_amount(self) -> Any:
        """Refuse nothing at all."""
        if not (amount := self.cleaned_data["amount"]):
            raise forms.ValidationError("Give the sum that moved.")
        return amount

    def clean_moved_on(self) -> date:
        """Refuse a day to come."""
        day: date = self.cleaned_data["moved_on"]
        if day > self.today:
            raise forms.ValidationError("That day is still to come.")
        return day

    def moved(self) -> Moved:
        """Return what the operation takes."""
        data = self.cleaned_data
        minor = Money(data["amount"], self.currency).minor
        return Moved(
            amount_minor=minor if data["way"] == "in" else -minor,
            currency=self.currency,
            moved_on=data["moved_on"],
            moved_by=data["moved_by"],
            note=data["note"],
            form_key=data["form_key"],
        )


class TakeBackForm(StudioForm):
    """Why a move is taken back."""

    because = forms.CharField(label="What was wrong with it?", max_length=200)
