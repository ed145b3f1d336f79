"""What a money table is narrowed by."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, ClassVar, cast

from django import forms

from invoicing.payments.models import Method
from invoicing.purchases.models import PurchaseKind
from studio.forms import DateField, MoneyField
from studio.forms.days import Lean


class ListForm(forms.Form):
    """Words, days and sums. What was written wrongly narrows nothing, and is said."""

    shows: ClassVar[Sequence[tuple[str, str]]] = ()
    kinds: ClassVar[Sequence[tuple[str, str]]] = ()
    rare: ClassVar[Sequence[str]] = ("kind", "least", "most")

    show = forms.ChoiceField(required=False)
    words = forms.CharField(label="Client or words", required=False, max_length=100)
    first = DateField(label="From", required=False, lean=Lean.BACK)
    last = DateField(label="to", required=False, lean=Lean.BACK)
    kind = forms.ChoiceField(required=False)
    least = MoneyField("GBP", label="At least", required=False, negative=True)
    most = MoneyField("GBP", label="at most", required=False, negative=True)
    client = forms.IntegerField(required=False, widget=forms.HiddenInput)

    def __init__(self, data: Any, *, currency: str) -> None:
        super().__init__(data)
        for name, choices in (("show", self.shows), ("kind", self.kinds)):
            cast("forms.ChoiceField", self.fields[name]).choices = choices
        for name in ("least", "most"):
            cast("MoneyField", self.fields[name]).use_currency(currency)

    def clean(self) -> dict[str, Any]:
        """Say so where a span ends before it begins."""
        data = super().clean() or self.cleaned_data
        first, last = data.get("first"), data.get("last")
        if first and last and first > last:
            self.add_error("last", "This day is before the first.")
        least, most = data.get("least"), data.get("most")
        if least is not None and most is not None and least > most:
            self.add_error("most", "This sum is below the least.")
        return data

    def narrowed(self) -> dict[str, Any]:
        """Return what was understood."""
        self.is_valid()
        return {"show": self.shows[0][0], **_filled(self.cleaned_data)}

    @property
    def usual(self) -> list[forms.BoundField]:
        """The boxes that always show."""
        return [self[one] for one in ("show", "words", "first", "last")]

    @property
    def more(self) -> list[forms.BoundField]:
        """The boxes behind a fold."""
        return [self[one] for one in self.rare]

    @property
    def is_open(self) -> bool:
        """Whether one behind the fold was used."""
        return any(self.data.get(one) for one in self.rare)


class PapersForm(ListForm):
    """Which invoices and credit notes."""

    shows = (
        ("open", "Open, then paid this month"),
        ("late", "Late"),
        ("due", "Not yet due"),
        ("paid", "Paid"),
        ("credited", "Credited"),
        ("all", "All"),
    )
    kinds = (
        ("", "Every kind"),
        ("invoices", "Invoices"),
        ("deposits", "Deposits only"),
        ("stages", "Stages only"),
        ("credit-notes", "Credit notes only"),
    )


class PaymentsForm(ListForm):
    """Which payments."""

    shows = (
        ("standing", "All that count"),
        ("loose", "Not wholly set against an invoice"),
        ("reversed", "Taken back"),
        ("all", "All, with those taken back"),
    )
    kinds = (("", "Every way"), *Method.choices, ("back", "Paid back to clients"))


class PurchasesForm(ListForm):
    """Which purchases."""

    words = forms.CharField(label="Supplier or words", required=False, max_length=100)

    shows = (
        ("all", "All"),
        ("no-receipt", "Without a receipt"),
        ("unpaid", "Not yet paid"),
    )
    kinds = (("", "Every kind"), *PurchaseKind.choices)


def _filled(data: dict[str, Any]) -> dict[str, Any]:
    return {name: value for name, value in data.items() if value not in (None, "")}
