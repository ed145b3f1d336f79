"""The form of the studio's money: currency, tax, deposit, account."""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal
from typing import Any, Final, cast

from babel.numbers import get_currency_name
from django import forms
from django.core.exceptions import ValidationError

from studio.forms import HintedRadios, MoneyField, branch, group, pair, row, wide
from studio.forms.money import AmountError, read_amount
from studio.money import Money
from studio.profile.forms import Posted, ProfileForm
from studio.profile.models import DepositKind, StudioProfile
from studio.profile.numbers import (
    NumberError,
    read_account_number,
    read_bic,
    read_iban,
    read_sort_code,
    read_tax_number,
)
from studio.wording import LOCALE, currency_sign, money_words, plain_number

CURRENCIES: Final = (
    *("GBP", "EUR", "USD", "AUD", "CAD", "CHF", "CZK", "DKK", "HUF", "ISK"),
    *("JPY", "NOK", "NZD", "PLN", "RON", "SEK", "SGD", "ZAR"),
)


class MoneyForm(ProfileForm):
    """Currency, tax, the usual deposit, and the account that clients pay into."""

    currency = forms.ChoiceField()
    tax_registered = forms.ChoiceField(
        label="Are you registered for VAT?",
        choices=[("no", "No"), ("yes", "Yes")],
        widget=HintedRadios(
            {
                "no": "No VAT on your papers",
                "yes": "Invoices show the VAT and your number",
            }
        ),
    )
    tax_number = forms.CharField(label="VAT number", required=False, max_length=40)
    tax_rate = forms.DecimalField(
        label="Usual rate",
        required=False,
        min_value=0,
        max_value=100,
        max_digits=5,
        decimal_places=2,
        localize=False,
        widget=forms.TextInput(attrs={"inputmode": "decimal"}),
    )
    tax_name = forms.CharField(label="What it is called", max_length=20, required=False)
    list_prices_include_tax = forms.BooleanField(
        label="The prices of my list have it in them", required=False
    )
    deposit = forms.CharField(
        label="Usual deposit",
        required=False,
        max_length=30,
        widget=forms.TextInput(attrs={"inputmode": "decimal"}),
        help_text="Empty for none",
    )
    deposit_kind = forms.ChoiceField(label="Deposit in")
    account_name = forms.CharField(
        label="Name on the account", required=False, max_length=120
    )
    sort_code = forms.CharField(required=False, max_length=20)
    account_number = forms.CharField(required=False, max_length=40)
    iban = forms.CharField(label="IBAN", required=False, max_length=42)
    bic = forms.CharField(label="BIC", required=False, max_length=14)

    layout = (
        "currency",
        "tax_registered",
        branch(
            "tax_number",
            row(wide("tax_rate", 6, box=4), wide("tax_name", 6, box=6)),
            "list_prices_include_tax",
        ),
        pair(wide("deposit", 6), wide("deposit_kind", 6)),
        group(
            "Account that clients pay into",
            "account_name",
            pair("sort_code", "account_number"),
            pair("iban", "bic"),
        ),
    )
    facts = ("account_name", "sort_code", "account_number", "iban", "bic")

    def __init__(self, data: Posted | None, *, profile: StudioProfile) -> None:
        super().__init__(data, profile=profile)
        for name in ("tax_number", "tax_rate", "tax_name", *self.facts):
            cast("Any", self.fields[name]).unmarked = True
        cast("Any", self.fields["deposit"]).unmarked = True
        cast("Any", self.fields["tax_rate"]).after = "%"
        currency = cast("forms.ChoiceField", self.fields["currency"])
        currency.choices = [(code, _currency_words(code)) for code in _codes(profile)]
        kind = cast("forms.ChoiceField", self.fields["deposit_kind"])
        kind.choices = [
            (DepositKind.PERCENT.value, "% of the total"),
            (DepositKind.AMOUNT.value, "a round sum"),
        ]

    @classmethod
    def initial_of(cls, profile: StudioProfile) -> dict[str, Any]:
        """Return what the boxes show of the profile."""
        rate = Decimal(profile.tax_rate_basis_points) / 100
        fixed = profile.deposit_kind == DepositKind.AMOUNT
        sum_first = money_words(profile.deposit, sign=False).replace(",", "")
        return super().initial_of(profile) | {
            "currency": profile.currency,
            "tax_registered": "yes" if profile.tax_registered else "no",
            "tax_number": profile.tax_number,
            "tax_rate": plain_number(rate),
            "tax_name": profile.tax_name,
            "list_prices_include_tax": profile.list_prices_include_tax,
            "deposit": sum_first if fixed else str(profile.deposit_percent),
            "deposit_kind": profile.deposit_kind,
        }

    def clean_iban(self) -> str:
        """Look at the check digits."""
        return _read(read_iban, self.cleaned_data["iban"])

    def clean_bic(self) -> str:
        """Look at the form."""
        return _read(read_bic, self.cleaned_data["bic"])

    def clean_sort_code(self) -> str:
        """Look at the digits."""
        return _read(read_sort_code, self.cleaned_data["sort_code"])

    def clean(self) -> dict[str, Any]:
        """Read what depends on two answers at once."""
        cleaned: dict[str, Any] = super().clean() or self.cleaned_data
        if cleaned.get("tax_registered") == "yes":
            self._clean_tax(cleaned)
        self._clean_account(cleaned)
        try:
            cleaned["deposit_part"] = self._read_deposit(cleaned)
        except ValidationError as refusal:
            self.add_error("deposit", refusal)
        return cleaned

    def details(self) -> dict[str, Any]:
        """Return the profile's fields; a number that no paper shows stays."""
        data = self.cleaned_data
        registered = data["tax_registered"] == "yes"
        currency, part = data["currency"], data["deposit_part"]
        details = super().details() | {
            "currency": currency,
            "tax_registered": registered,
            "deposit_kind": data["deposit_kind"],
        }
        if data["deposit_kind"] == DepositKind.AMOUNT:
            details["deposit_minor"] = Money(part, currency).minor
        else:
            details["deposit_percent"] = int(part)
        if registered:
            details |= {
                "tax_number": data["tax_number"],
                "tax_rate_basis_points": int(data["tax_rate"] * 100),
                "tax_name": data["tax_name"] or "VAT",
                "list_prices_include_tax": data["list_prices_include_tax"],
            }
        return details

    def _clean_tax(self, cleaned: dict[str, Any]) -> None:
        number = cleaned.get("tax_number")
        if not number:
            self.add_error("tax_number", "Write your VAT number: invoices show it.")
        else:
            try:
                cleaned["tax_number"] = read_tax_number(number)
            except NumberError as refusal:
                self.add_error("tax_number", str(refusal))
        if cleaned.get("tax_rate") is None and "tax_rate" not in self.errors:
            self.add_error("tax_rate", "Write the rate in percent, such as 20.")

    def _clean_account(self, cleaned: dict[str, Any]) -> None:
        number, sort_code = cleaned.get("account_number"), cleaned.get("sort_code")
        if number:
            try:
                cleaned["account_number"] = read_account_number(
                    number, with_sort_code=bool(sort_code)
                )
            except NumberError as refusal:
                self.add_error("account_number", str(refusal))
        elif sort_code:
            self.add_error("account_number", "Write the number that goes with it.")
        if (number or cleaned.get("iban")) and not cleaned.get("account_name"):
            self.add_error("account_name", "Banks ask payers for the account’s name.")

    def _read_deposit(self, cleaned: dict[str, Any]) -> Decimal:
        typed = (cleaned.get("deposit") or "").strip().removesuffix("%") or "0"
        currency = cleaned.get("currency") or "GBP"
        if cleaned.get("deposit_kind") == DepositKind.AMOUNT:
            field = MoneyField(currency, highest=Decimal(1_000_000))
            return cast("Decimal", field.clean(typed))
        try:
            percent = read_amount(typed, "JPY")
        except AmountError:
            raise ValidationError("Write a whole percentage, such as 25.") from None
        if not 0 <= percent <= 100:
            raise ValidationError("Write a percentage from 0 to 100.")
        return percent


def _read(reader: Callable[[str], str], text: str) -> str:
    if not text:
        return ""
    try:
        return reader(text)
    except NumberError as refusal:
        raise ValidationError(str(refusal)) from refusal


def _codes(profile: StudioProfile) -> list[str]:
    own = [] if profile.currency in CURRENCIES else [profile.currency]
    return [*CURRENCIES, *own]


def _currency_words(code: str) -> str:
    name, sign = get_currency_name(code, count=1, locale=LOCALE), currency_sign(code)
    return f"{name[0].upper()}{name[1:]}, {sign}"
