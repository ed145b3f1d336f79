"""The form of a quote apart from its lines."""

from __future__ import annotations

from datetime import date
from decimal import Decimal, InvalidOperation
from typing import Any, Final, cast

from crispy_forms.helper import FormHelper
from django import forms
from django.core.exceptions import ValidationError

from invoicing.quotes.figures import OwnPlan
from invoicing.quotes.models import DepositRule, Quote
from invoicing.quotes.operations import QuoteTerms
from invoicing.quotes.session_forms import SessionFields, initial_session
from studio.forms import (
    DateField,
    MoneyField,
    page_helper,
    row,
)
from studio.forms.money import AmountError, read_amount
from studio.money import Money, decimal_from_minor, exponent
from studio.profile.models import DepositKind, StudioProfile
from studio.wording import currency_sign, money_words, plain_number

PERCENT: Final = DepositKind.PERCENT.value
AMOUNT: Final = DepositKind.AMOUNT.value
OWN_COSTS: Final = ("assistant_cost", "travel_cost", "other_cost")
HIGHEST: Final = Decimal(100_000_000)


class QuoteForm(SessionFields):
    """When and where, until when, what is taken off, what is paid first, the words."""

    summary = False

    valid_until_on = DateField(label="Price holds until")
    pictures_by_on = DateField(label="Pictures ready by", required=False)
    discount = forms.CharField(required=False, max_length=30)
    discount_in = forms.ChoiceField(label="Discount in")
    discount_reason = forms.CharField(
        label="What the discount is for",
        required=False,
        max_length=200,
        help_text="Printed beside it, such as your third session",
    )
    deposit = forms.CharField(required=False, max_length=30)
    deposit_in = forms.ChoiceField(label="Deposit in")
    deposit_days = forms.IntegerField(
        label="Days to pay the deposit", min_value=0, max_value=365
    )
    payment_days = forms.IntegerField(
        label="Days to pay the rest", min_value=0, max_value=365
    )
    opening_note = forms.CharField(
        required=False,
        max_length=2000,
        help_text="Printed above the prices. Two or three sentences read best.",
        widget=forms.Textarea(attrs={"rows": 4}),
    )
    included = forms.CharField(
        label="What is included",
        required=False,
        max_length=2000,
        help_text="One thing a line; each gets a tick on the client’s page.",
        widget=forms.Textarea(attrs={"rows": 4}),
    )
    planned_hours = forms.DecimalField(
        label="Your own hours",
        required=False,
        min_value=0,
        max_value=1000,
        decimal_places=2,
        widget=forms.TextInput(attrs={"inputmode": "decimal", "maxlength": "7"}),
    )
    assistant_cost = MoneyField(label="Assistant", required=False)
    travel_cost = MoneyField(label="Travel", required=False)
    other_cost = MoneyField(label="Other costs", required=False)
    edit_version = forms.IntegerField(widget=forms.HiddenInput, required=False)

    def __init__(
        self,
        *args: Any,
        quote: Quote,
        today: date,
        shows_costs: bool = False,
        **kwargs: Any,
    ) -> None:
        super().__init__(*args, **kwargs)
        self.currency, self.today, self.quote = quote.currency, today, quote
        for name in OWN_COSTS:
            cast("MoneyField", self.fields[name]).use_currency(quote.currency)
        for name in ("planned_hours", *OWN_COSTS):
            cast("Any", self.fields[name]).unmarked = True
            if not shows_costs:
                del self.fields[name]
        days = StudioProfile.load().pictures_days
        promise = f"Your usual promise is {days} days after the session."
        self.fields["pictures_by_on"].help_text = promise
        sign = currency_sign(self.currency)
        for name in ("discount", "deposit"):
            unit = cast("forms.ChoiceField", self.fields[f"{name}_in"])
            unit.choices = [(PERCENT, "%"), (AMOUNT, sign)]
            attrs = {"inputmode": "decimal", "autocomplete": "off"}
            self.fields[name].widget.attrs.update(attrs)

    @property
    def dates_helper(self) -> FormHelper:
        """How the promised days stand."""
        return page_helper(row("valid_until_on", "pictures_by_on"), summary=False)

    @property
    def words_helper(self) -> FormHelper:
        """How the words and the days to pay stand."""
        days = row("deposit_days", "payment_days")
        return page_helper("opening_note", "included", days, summary=False)

    @property
    def costs_helper(self) -> FormHelper:
        """How the studio's own time and costs stand; only its owner sees them."""
        return page_helper(
            row("planned_hours", "assistant_cost"),
            row("travel_cost", "other_cost"),
            summary=False,
        )

    def clean_valid_until_on(self) -> date:
        """Refuse a price that has lapsed before it is read."""
        until: date = self.cleaned_data["valid_until_on"]
        if until < self.today:
            raise ValidationError(
                f"Give a date after today, {self.today.day} {self.today:%B}, for "
                "“Price holds until”."
            )
        return until

    def clean(self) -> dict[str, Any]:
        """Read the session, the discount and the deposit as wholes."""
        cleaned: dict[str, Any] = super().clean() or self.cleaned_data
        self.read_session()
        for name, places in (("discount", 2), ("deposit", 0)):
            try:
                self._read_part(name, places)
            except ValidationError as refusal:
                self.add_error(name, refusal)
        return cleaned

    def terms(self) -> QuoteTerms:
        """Return what was typed."""
        data = self.cleaned_data
        rule = self.deposit_rule()
        percent, minor = self.discount_asked()
        return QuoteTerms(
            valid_until_on=data["valid_until_on"],
            pictures_by_on=data["pictures_by_on"],
            opening_note=data["opening_note"],
            included=data["included"],
            discount_percent_hundredths=percent,
            discount_minor=minor,
            discount_reason=data["discount_reason"],
            **self._own_costs(),
            deposit_kind=DepositKind(rule.kind),
            deposit_percent=rule.percent,
            deposit_minor=rule.minor,
            deposit_days=data["deposit_days"],
            payment_days=data["payment_days"],
        )

    def own_plan(self) -> OwnPlan:
        """Return the own time and costs as typed so far."""
        own = self._own_costs()
        return OwnPlan(own.pop("planned_minutes"), sum(own.values()))

    def _own_costs(self) -> dict[str, int]:
        if "planned_hours" not in self.fields:  # not this person's to see: they stand
            names = ("planned_minutes", *(f"{name}_minor" for name in OWN_COSTS))
            return {name: getattr(self.quote, name) for name in names}
        data = self.cleaned_data
        hours = data.get("planned_hours") or Decimal(0)
        own = {
            f"{name}_minor": Money(data.get(name) or Decimal(0), self.currency).minor
            for name in OWN_COSTS
        }
        return {"planned_minutes": round(hours * 60), **own}

    def deposit_rule(self) -> DepositRule:
        """Return the deposit as typed; none where it was not understood."""
        part = self.cleaned_data.get("deposit_part", Decimal(0))
        if self.cleaned_data.get("deposit_in") == AMOUNT:
            return DepositRule(kind=AMOUNT, minor=Money(part, self.currency).minor)
        return DepositRule(kind=PERCENT, percent=int(part))

    def discount_asked(self) -> tuple[int, int]:
        """Return the discount in hundredths of a percent, and in minor units."""
        part = self.cleaned_data.get("discount_part", Decimal(0))
        if self.cleaned_data.get("discount_in") == AMOUNT:
            return 0, Money(part, self.currency).minor
        return int(part * 100), 0

    def _read_part(self, name: str, places: int) -> None:
        typed = (self.cleaned_data.get(name) or "").strip().removesuffix("%")
        if not typed:
            part = Decimal(0)
        elif self.cleaned_data.get(f"{name}_in") == AMOUNT:
            part = _amount(typed, self.currency)
        else:
            part = _percent(typed, places)
        self.cleaned_data[f"{name}_part"] = part


def initial_terms(quote: Quote) -> dict[str, Any]:
    """Return what the builder shows of a quote."""
    percent = Decimal(quote.discount_percent_hundredths) / 100
    off = _shown(quote.discount_minor, quote.currency)
    fixed = quote.deposit_kind == DepositKind.AMOUNT
    sum_first = _shown(quote.deposit_minor, quote.currency)
    return {
        "valid_until_on": quote.valid_until_on,
        "pictures_by_on": quote.pictures_by_on,
        "opening_note": quote.opening_note,
        "included": quote.included,
        "discount": off if quote.discount_minor else plain_number(percent or Decimal()),
        "discount_in": AMOUNT if quote.discount_minor else PERCENT,
        "deposit": sum_first if fixed else str(quote.deposit_percent),
        "deposit_in": AMOUNT if fixed else PERCENT,
        "discount_reason": quote.discount_reason,
        "planned_hours": plain_number(round(Decimal(quote.planned_minutes) / 60, 2))
        if quote.planned_minutes
        else "",
        **{
            name: decimal_from_minor(minor, exponent(quote.currency)) or None
            for name in OWN_COSTS
            for minor in (getattr(quote, f"{name}_minor"),)
        },
        "deposit_days": quote.deposit_days,
        "payment_days": quote.payment_days,
        "edit_version": quote.edit_version,
        **initial_session(quote),
    }


def _amount(typed: str, currency: str) -> Decimal:
    try:
        amount = read_amount(typed, currency)
    except AmountError as refusal:
        raise ValidationError(str(refusal)) from refusal
    if not 0 <= amount <= HIGHEST:
        raise ValidationError("Write an amount of nothing or more, and not so large.")
    return amount


def _percent(typed: str, places: int) -> Decimal:
    try:
        percent = Decimal(typed.replace(",", "."))
    except InvalidOperation:
        percent = Decimal("NaN")
    if not percent.is_finite():
        raise ValidationError("Write a percentage in figures, such as 25.")
    if not 0 <= percent <= 100:
        raise ValidationError("Write a percentage from 0 to 100.")
    if percent != round(percent, places):
        limit = f"no more than {places} decimals" if places else "whole per cent"
        raise ValidationError(f"Write {limit}.")
    return percent


def _shown(minor: int, currency: str) -> str:
    amount = Money(decimal_from_minor(minor, exponent(currency)), currency)
    return money_words(amount, sign=False).replace(",", "")
