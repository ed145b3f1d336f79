"""The forms of the bank: a statement, its columns, and what a line is."""

from __future__ import annotations

from typing import Any, cast

from django import forms

from invoicing.bank.matching import OpenPaper
from invoicing.bank.queries import balance_words
from invoicing.bank.reading import Columns
from invoicing.payments.models import Payment
from invoicing.purchases.forms import PurchaseForm
from studio.forms import StudioForm, row
from studio.tables import MOST_BYTES, DateOrder, Table
from studio.wording import long_date, money_words

ORDERS = [
    (DateOrder.DAY_FIRST.value, "Day, month, year"),
    (DateOrder.MONTH_FIRST.value, "Month, day, year"),
    (DateOrder.YEAR_FIRST.value, "Year, month, day"),
]


class StatementForm(StudioForm):
    """A file of the bank."""

    file = forms.FileField(
        label="Statement of your account",
        help_text="CSV, or XML of the kind camt.053; 2 MB at most.",
    )

    def clean_file(self) -> Any:
        """Refuse what is too large before it is read."""
        file = self.cleaned_data["file"]
        if file.size > MOST_BYTES:
            raise forms.ValidationError("The file is larger than 2 MB.")
        return file


class ColumnsForm(StudioForm):
    """Which column of a statement says what."""

    booked_on = forms.TypedChoiceField(label="Day", coerce=int)
    order = forms.ChoiceField(label="Days are written", choices=ORDERS)
    amount = forms.TypedChoiceField(
        label="Amount, with its sign", coerce=int, empty_value=None, required=False
    )
    money_in = forms.TypedChoiceField(
        label="Or money in", coerce=int, empty_value=None, required=False
    )
    money_out = forms.TypedChoiceField(
        label="and money out", coerce=int, empty_value=None, required=False
    )
    party = forms.TypedChoiceField(
        label="Who", coerce=int, empty_value=None, required=False
    )
    text = forms.TypedChoiceField(
        label="What for", coerce=int, empty_value=None, required=False
    )

    layout = (
        row("booked_on", "order"),
        "amount",
        row("money_in", "money_out"),
        row("party", "text"),
    )

    def __init__(self, *args: Any, table: Table, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        named = [
            (place, name or f"Column {place + 1}")
            for place, name in enumerate(table.head)
        ]
        for name in ("booked_on", "amount", "money_in", "money_out", "party", "text"):
            field = cast("forms.ChoiceField", self.fields[name])
            field.choices = named if field.required else [("", "No column"), *named]

    def clean(self) -> dict[str, Any]:
        """Ask for one signed column, or for one in each direction."""
        data = super().clean() or self.cleaned_data
        signed, came = data.get("amount"), data.get("money_in")
        went = data.get("money_out")
        if signed is None and came is None and went is None:
            self.add_error("amount", "Say which column holds the amount.")
        if signed is not None and (came is not None or went is not None):
            self.add_error("amount", "Take one signed column, or money in and out.")
        return data

    def columns(self) -> Columns:
        """Return what each column means."""
        data = dict(self.cleaned_data)
        return Columns(**{**data, "order": DateOrder(data["order"])})

    @staticmethod
    def initial_of(columns: Columns) -> dict[str, Any]:
        """Return what the form shows of a guess."""
        return {
            "booked_on": columns.booked_on,
            "order": columns.order.value,
            "amount": columns.amount,
            "money_in": columns.money_in,
            "money_out": columns.money_out,
            "party": columns.party,
            "text": columns.text,
        }


class PapersForm(StudioForm):
    """Which invoices a line pays, the oldest first."""

    papers = forms.MultipleChoiceField(
        label="Pays", widget=forms.CheckboxSelectMultiple
    )

    def __init__(
        self, *args: Any, papers: list[OpenPaper], currency: str, **kwargs: Any
    ) -> None:
        super().__init__(*args, **kwargs)
        self._papers = {key_of(paper): paper for paper in papers}
        field = cast("forms.MultipleChoiceField", self.fields["papers"])
        field.choices = [
            (key, balance_words(paper, currency)) for key, paper in self._papers.items()
        ]

    def chosen(self) -> list[OpenPaper]:
        """Return the papers that were ticked, in their order."""
        ticked = set(self.cleaned_data["papers"])
        return [paper for key, paper in self._papers.items() if key in ticked]


class PayoutForm(StudioForm):
    """Which card payments a payout brings."""

    payments = forms.TypedMultipleChoiceField(
        label="Brings", coerce=int, widget=forms.CheckboxSelectMultiple
    )

    def __init__(self, *args: Any, payments: list[Payment], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        field = cast("forms.TypedMultipleChoiceField", self.fields["payments"])
        field.choices = [(one.pk, _words_of(one)) for one in payments]


class SpendForm(PurchaseForm):
    """A purchase that a line paid; the line says when, and from where."""

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        del self.fields["paid_on"], self.fields["paid_from"]


class LeaveForm(StudioForm):
    """Why a line is left out."""

    because = forms.CharField(
        label="Why it is none of the studio’s",
        max_length=200,
        help_text="Such as a transfer between two accounts of the business",
    )


class OwnForm(StudioForm):
    """What the owner's own money was for."""

    note = forms.CharField(label="Note", required=False, max_length=200)


class QuestionForm(StudioForm):
    """A question about a line."""

    question = forms.CharField(max_length=300, help_text="Stands on the owner’s Today")


class AnswerForm(StudioForm):
    """The answer to it."""

    answer = forms.CharField(max_length=300)


def key_of(paper: OpenPaper) -> str:
    """Return how a form names a paper."""
    return f"{'draft' if paper.is_draft else 'invoice'}-{paper.pk}"


def _words_of(payment: Payment) -> str:
    day = long_date(payment.received_on)
    return f"{money_words(payment.amount)}, {payment.client}, {day}"
