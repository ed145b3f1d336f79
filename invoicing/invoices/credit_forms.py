"""The forms of a credit note: why, and what of each line."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any, Final, cast

from django import forms
from django.core.validators import MaxValueValidator

from invoicing.invoices.credited import Credited, Piece
from invoicing.quotes.priced import counted
from studio.forms import HintedRadios, MoneyField, StudioForm
from studio.money import Money
from studio.wording import money_words, plain_number

WHOLE: Final = "whole"
PART: Final = "part"


@dataclass(frozen=True, slots=True, kw_only=True)
class BilledLine:
    """One line of the invoice, and what is left of it."""

    place: int
    description: str
    quantity: str
    most: Decimal
    price: Money
    left: Money

    @property
    def words(self) -> str:
        """What was billed: 2 hours at £90.00."""
        return f"{self.quantity} at {money_words(self.price)}"


def billed_lines(credited: Credited) -> list[BilledLine]:
    """Return the lines of an invoice of which something is left."""
    content = credited.content
    lines = enumerate(zip(content.lines, credited.lines_left, strict=True))
    return [
        BilledLine(
            place=place,
            description=line.description,
            quantity=counted(line.quantity, line.unit),
            most=line.quantity,
            price=Money.from_minor(line.unit_price_minor, content.currency),
            left=Money.from_minor(left, content.currency),
        )
        for place, (line, left) in lines
        if left > 0
    ]


class CreditForm(StudioForm):
    """Why an invoice is taken back, and whether as a whole."""

    scope = forms.ChoiceField(
        label="What is taken back?",
        choices=[(WHOLE, "All that is left of it"), (PART, "Only a part")],
        initial=WHOLE,
        widget=HintedRadios({PART: "What you fill in below, line by line"}),
    )
    because = forms.CharField(
        label="Why?",
        max_length=400,
        help_text="Printed on the credit note. “Wrong address”, “Session cancelled”.",
    )
    send = forms.BooleanField(
        label="Send the credit note to the client", required=False, initial=True
    )

    layout = ("scope", "because", "send")
    summary = False

    def look_at(self, lines: Sequence[CreditLineForm]) -> None:
        """Compare the answer with what was filled in below."""
        if not self.is_bound or "scope" not in self.cleaned_data:
            return
        filled, scope = any(one.is_filled for one in lines), self.cleaned_data["scope"]
        if scope == PART and not filled:
            self.add_error("scope", "Fill in at least one line below.")
        if scope == WHOLE and filled:
            self.add_error(
                "scope",
                "Lines are filled in below: choose “Only a part”, or empty them.",
            )


class CreditLineForm(StudioForm):
    """What of one line is taken back: so many, its right price, or a sum."""

    quantity = forms.DecimalField(
        required=False,
        min_value=Decimal("0.001"),
        decimal_places=3,
        widget=forms.TextInput(attrs={"inputmode": "decimal", "maxlength": "12"}),
    )
    new_price = MoneyField("GBP", label="Right price of one", required=False)
    amount = MoneyField("GBP", label="Sum", required=False)

    def __init__(self, data: Mapping[str, Any] | None, *, billed: BilledLine) -> None:
        super().__init__(data, prefix=f"line-{billed.place}")
        self.billed = billed
        currency = billed.price.currency
        for field in self.fields.values():
            cast("Any", field).unmarked = True
        for name in ("new_price", "amount"):
            cast("MoneyField", self.fields[name]).use_currency(currency)
        if billed.most > 0:
            quantity = cast("forms.DecimalField", self.fields["quantity"])
            said = f"{plain_number(billed.most)} were billed; take as many at most."
            quantity.validators.append(MaxValueValidator(billed.most, said))

    def clean(self) -> dict[str, Any]:
        """Ask for one answer a line."""
        cleaned: dict[str, Any] = super().clean() or self.cleaned_data
        given = [name for name in self.fields if cleaned.get(name) is not None]
        for name in given[1:]:
            self.add_error(name, "Fill in one box of a line, not two.")
        return cleaned

    @property
    def is_filled(self) -> bool:
        """Whether anything was written in the line."""
        return any(self[name].value() for name in self.fields)

    def piece(self) -> Piece | None:
        """Return what is taken back; None for an empty line."""
        data, place, currency = (
            self.cleaned_data,
            self.billed.place,
            self.billed.price.currency,
        )
        if data["quantity"] is not None:
            return Piece(line=place, quantity_thousandths=int(data["quantity"] * 1000))
        if data["new_price"] is not None:
            minor = Money(data["new_price"], currency).minor
            return Piece(line=place, new_price_minor=minor)
        if data["amount"]:
            return Piece(line=place, amount_minor=Money(data["amount"], currency).minor)
        return None
