"""The forms that sell and redeem vouchers."""

from __future__ import annotations

import secrets
from typing import Any, cast

from crispy_forms.helper import FormHelper
from django import forms

from invoicing.payments.forms import PaymentForm
from invoicing.periods.forms import PastDateField
from invoicing.vouchers.codes import read_code
from invoicing.vouchers.models import Voucher
from invoicing.vouchers.operations import Gift
from jobs.clients.models import Client
from studio.forms import DateField, MoneyField, StudioForm, page_helper, row, wide
from studio.forms.days import Lean
from studio.money import Money
from studio.profile.models import StudioProfile


class SaleForm(PaymentForm):
    """A voucher: who buys it, for how much, for whom."""

    client = forms.ModelChoiceField(
        label="Who buys it", queryset=Client.objects.none(), empty_label="Choose"
    )
    given_to = forms.CharField(
        label="For whom", required=False, max_length=120, help_text="As it is printed"
    )
    greeting = forms.CharField(
        label="Greeting",
        required=False,
        max_length=400,
        widget=forms.Textarea(attrs={"rows": 3}),
    )
    rate = forms.DecimalField(
        label="Tax known at the sale, %",
        required=False,
        min_value=0,
        max_value=100,
        decimal_places=2,
        help_text="Only for one kind of work at one rate. Empty: any of your work",
        widget=forms.TextInput(attrs={"inputmode": "decimal", "maxlength": "6"}),
    )
    valid_until_on = DateField(
        label="Good until",
        required=False,
        lean=Lean.AHEAD,
        help_text="Empty: without an end. Local law may set a least time",
    )

    def __init__(self, *args: Any, profile: StudioProfile, **kwargs: Any) -> None:
        super().__init__(*args, currency=profile.currency, **kwargs)
        if profile.tax_registered:
            known = f"{profile.tax_name} known at the sale, %"
            self.fields["rate"].label = known
        else:
            del self.fields["rate"]
        buyers = Client.objects.standing().order_by("name")
        cast("forms.ModelChoiceField[Client]", self.fields["client"]).queryset = buyers

    @property
    def helper(self) -> FormHelper:
        """How the form is drawn: tax only in a studio that charges it."""
        taxed = [wide("rate", 5)] if "rate" in self.fields else []
        return page_helper(
            "client",
            row(wide("amount", 4), wide("received_on", 4), wide("method", 4)),
            row(wide("reference", 7), *taxed),
            row(wide("given_to", 7), wide("valid_until_on", 5)),
            "greeting",
            "form_key",
        )

    def gift(self) -> Gift:
        """Return what the voucher says."""
        data = self.cleaned_data
        return Gift(
            given_to=data["given_to"],
            greeting=data["greeting"],
            valid_until_on=data["valid_until_on"],
            tax_rate_basis_points=int((data.get("rate") or 0) * 100),
        )


class RedeemForm(StudioForm):
    """A voucher's code, and how much of it an invoice takes."""

    code = forms.CharField(
        label="Code",
        max_length=40,
        help_text="Twelve signs, as they are printed on it",
        widget=forms.TextInput(attrs={"autocomplete": "off", "spellcheck": "false"}),
    )
    amount = MoneyField("GBP", label="How much of it")
    on = PastDateField(label="Redeemed on")
    honours_expired = forms.BooleanField(
        label="Honour it although its last day has passed", required=False
    )
    form_key = forms.CharField(widget=forms.HiddenInput, max_length=64)

    layout = (
        "code",
        row(wide("amount", 6), wide("on", 6)),
        "honours_expired",
        "form_key",
    )

    def __init__(
        self, *args: Any, currency: str, may_honour: bool, **kwargs: Any
    ) -> None:
        super().__init__(*args, **kwargs)
        cast("MoneyField", self.fields["amount"]).use_currency(currency)
        self.currency = currency
        self.initial.setdefault("form_key", secrets.token_hex(16))
        if not may_honour:
            honours = self.fields["honours_expired"]
            honours.disabled, honours.widget = True, forms.HiddenInput()

    @property
    def amount_minor(self) -> int:
        """The sum that was typed, in minor units."""
        return Money(self.cleaned_data["amount"], self.currency).minor

    def clean_code(self) -> Voucher:
        """Find the voucher; a misreading gets its own sentence."""
        try:
            code = read_code(self.cleaned_data["code"])
        except ValueError as fault:
            raise forms.ValidationError(str(fault)) from fault
        voucher = Voucher.objects.filter(code=code).first()
        if voucher is None:
            raise forms.ValidationError("No voucher of this studio has that code.")
        return voucher


class DayForm(StudioForm):
    """On which day it is asked."""

    on = DateField(label="As of", required=False, lean=Lean.BACK)
