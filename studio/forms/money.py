"""Amounts of money as people type them: 1,234.50, 1.234,50, £1234."""

from __future__ import annotations

import re
from decimal import Decimal
from typing import Any, Final

from django import forms
from django.core.exceptions import ValidationError

from studio.money import Money, exponent
from studio.wording import currency_sign, money_words

# Fits a column of whole minor units with room for sums of many rows.
LARGEST: Final = Decimal(9_999_999_999)
_SPACES: Final = re.compile(r"[\s'’\u00a0\u202f\u2009]")
_PLAIN: Final = re.compile(r"(\d{1,15})(?:[.,](\d*))?")
_GROUPED: Final = re.compile(
    r"(\d{1,3}(?:(?P<group>[.,])\d{2,3})(?:(?P=group)\d{2,3})*)"
    r"(?:(?!(?P=group))[.,](\d*))?"
)


class AmountError(ValueError):
    """A text is no amount of the currency; the message says why."""


def read_amount(text: str, currency: str) -> Decimal:
    """Return the amount that a text means, with all digits of the minor unit.

    A comma or a point may part the decimals, spaces, apostrophes or the other of the
    two the thousands. Errors: AmountError where the text is no amount, is finer than
    the currency allows, or could mean two amounts.
    """
    bare = _SPACES.sub("", text).replace("\N{MINUS SIGN}", "-").upper()
    for sign in (currency.upper(), currency_sign(currency).upper(), "£", "$", "€"):
        bare = bare.replace(sign, "")
    negative = bare.startswith("-")
    whole, fraction = _parts(bare.removeprefix("-"), currency)
    digits = exponent(currency)
    if len(fraction) > digits:
        raise AmountError(_too_fine(currency))
    figure = Decimal(f"{whole}{fraction.ljust(digits, '0')}").scaleb(-digits)
    return -figure if negative else figure


class MoneyField(forms.Field):
    """An amount of one currency; gives a Decimal with the currency's digits."""

    default_error_messages = {
        "negative": "Write an amount of nothing or more.",
        "large": "This amount is too large to be meant.",
    }

    def __init__(
        self,
        currency: str = "GBP",
        *,
        negative: bool = False,
        highest: Decimal = LARGEST,
        **kwargs: Any,
    ) -> None:
        attrs = {
            "inputmode": "decimal",
            "autocomplete": "off",
            "class": "width-6",
            "maxlength": "30",
        }
        kwargs.setdefault("widget", forms.TextInput(attrs=attrs))
        super().__init__(**kwargs)
        self.negative = negative
        self.highest = highest
        self.use_currency(currency)

    def use_currency(self, currency: str) -> None:
        """Take amounts of another currency from now on."""
        self.currency = currency
        self.before = currency_sign(currency)

    def to_python(self, value: Any) -> Decimal | None:
        """Return the amount, or None where nothing was written."""
        if value in self.empty_values:
            return None
        try:
            amount = read_amount(str(value)[:60], self.currency)
        except AmountError as refusal:
            raise ValidationError(str(refusal), code="invalid") from refusal
        if amount < 0 and not self.negative:
            raise ValidationError(self.error_messages["negative"], code="negative")
        if abs(amount) > self.highest:
            raise ValidationError(self.error_messages["large"], code="large")
        return amount

    def prepare_value(self, value: Any) -> Any:
        """Return what the box shows: 400.00 for a Money or a Decimal."""
        if isinstance(value, Decimal):
            value = Money(value, self.currency)
        if isinstance(value, Money):
            return money_words(value, sign=False).replace(",", "")
        return value

    def has_changed(self, initial: Any, data: Any) -> bool:
        """Say whether another amount was written, in whatever way."""
        try:
            return self.to_python(self.prepare_value(initial)) != self.to_python(data)
        except ValidationError:
            return True


def _parts(bare: str, currency: str) -> tuple[str, str]:
    if not bare.isascii():
        raise AmountError(_unclear(currency))
    if found := _PLAIN.fullmatch(bare):
        whole, fraction = found[1], found[2] or ""
        if len(fraction) == 3 and len(whole) <= 3 and "," in bare:
            return _thousands_or_decimals(whole, fraction, currency)
        return whole, fraction
    found = _GROUPED.fullmatch(bare)
    if found is None or not _well_grouped(found[1]):
        raise AmountError(_unclear(currency))
    return re.sub(r"[.,]", "", found[1]), found[3] or ""


def _thousands_or_decimals(whole: str, fraction: str, currency: str) -> tuple[str, str]:
    if exponent(currency) >= 3:
        raise AmountError(
            f"{whole},{fraction} could mean two amounts: leave the comma out."
        )
    return whole + fraction, ""


def _well_grouped(figures: str) -> bool:
    return len(re.split(r"[.,]", figures)[-1]) == 3


def _unclear(currency: str) -> str:
    return f"Write the amount in figures, such as {_example(currency)}."


def _too_fine(currency: str) -> str:
    digits = exponent(currency)
    if digits == 0:
        return f"{currency} has no smaller unit: write a whole amount."
    return f"Write no more than {digits} decimals, such as {_example(currency)}."


def _example(currency: str) -> str:
    example = Money.from_minor(12 * 10 ** exponent(currency) + 5, currency)
    return money_words(example, sign=False)
