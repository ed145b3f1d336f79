"""The form that records a payment."""

from __future__ import annotations

import secrets
from collections.abc import Sequence
from typing import Any, ClassVar, cast

from django import forms

from invoicing.payments.models import MONEY
from invoicing.periods.forms import PastDateField
from jobs.clients.models import Client
from studio.forms import MoneyField, StudioForm, row, wide
from studio.money import Money
from studio.wording import money_words


class PaymentForm(StudioForm):
    """What came in, when and how."""

    amount = MoneyField("GBP")
    received_on = PastDateField(label="Received on")
    method = forms.ChoiceField(label="How", choices=MONEY)
    reference = forms.CharField(
        label="Reference on the bank line", required=False, max_length=140
    )
    form_key = forms.CharField(widget=forms.HiddenInput, max_length=64)

    layout: ClassVar[tuple[Any, ...]] = (
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


class OnAccountForm(PaymentForm):
    """Money of a client, without an invoice for it."""

    client = forms.ModelChoiceField(
        label="From", queryset=Client.objects.none(), empty_label="Choose a client"
    )

    layout = (
        "client",
        row(wide("amount", 4), wide("received_on", 4), wide("method", 4)),
        "reference",
        "form_key",
    )

    def __init__(self, *args: Any, currency: str, **kwargs: Any) -> None:
        super().__init__(*args, currency=currency, **kwargs)
        payers = Client.objects.standing().order_by("name")
        cast("forms.ModelChoiceField[Client]", self.fields["client"]).queryset = payers


class PayBackForm(PaymentForm):
    """What goes back to a client, when and how."""

    def __init__(self, *args: Any, currency: str, **kwargs: Any) -> None:
        super().__init__(*args, currency=currency, **kwargs)
        self.fields["received_on"].label = "Paid back on"


class SharesForm(StudioForm):
    """How much of a payment goes to each open invoice, and from which day."""

    on = PastDateField(label="Set on")

    def __init__(
        self, *args: Any, currency: str, invoices: Sequence[Any], **kwargs: Any
    ) -> None:
        super().__init__(*args, **kwargs)
        self.currency, self.invoices = currency, invoices
        for invoice in invoices:
            owed = money_words(Money.from_minor(invoice.balance_minor, currency))
            label = f"{invoice.number}, {owed} open"
            share: Any = MoneyField(currency, label=label, required=False)
            share.unmarked = True
            self.fields[f"share_{invoice.pk}"] = share

    def shares(self) -> dict[int, int]:
        """Return the sums that were typed, by invoice."""
        typed = {
            one.pk: self.cleaned_data.get(f"share_{one.pk}") for one in self.invoices
        }
        return {
            pk: Money(amount, self.currency).minor
            for pk, amount in typed.items()
            if amount
        }


class TakeOffForm(StudioForm):
    """Why a payment is taken off an invoice, and from which day."""

    on = PastDateField(label="Taken off on")
    because = forms.CharField(label="Why?", max_length=200)


class SendForm(StudioForm):
    """The words that go with a paper, before they go."""

    address = forms.EmailField(label="To", max_length=254)
    subject = forms.CharField(max_length=200)
    words = forms.CharField(max_length=4000, widget=forms.Textarea(attrs={"rows": 8}))
    form_key = forms.CharField(widget=forms.HiddenInput, max_length=64)

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.initial.setdefault("form_key", secrets.token_hex(16))


class ReversalForm(StudioForm):
    """Why a payment is taken back."""

    because = forms.CharField(label="What was wrong with it?", max_length=200)
