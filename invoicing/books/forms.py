"""The forms of the books: account codes, and how periods run."""

from __future__ import annotations

from calendar import monthrange
from decimal import Decimal
from typing import Any, Final, cast

from crispy_forms.helper import FormHelper
from django import forms

from invoicing.books.accounts import Account
from invoicing.payments.coins import coin_of
from studio.forms import MoneyField, StudioForm, page_helper, row, wide
from studio.money import Money, decimal_from_minor, exponent
from studio.profile.forms import ProfileForm
from studio.profile.models import DistanceUnit, StudioProfile, TaxBasis
from studio.wording import plain_number

MONTHS: Final = (
    *("January", "February", "March", "April", "May", "June"),
    *("July", "August", "September", "October", "November", "December"),
)
NO_LEAP_YEAR: Final = 2027
LARGEST_COIN: Final = 1_000
"""In minor units: ten of a currency with two decimals."""
OF_TAX: Final = (
    Account.OUTPUT_TAX,
    Account.OUTPUT_HELD,
    Account.INPUT_TAX,
    Account.INPUT_HELD,
)
LENGTHS: Final = {1: "Month", 3: "Quarter", 12: "Year"}


class CodesForm(StudioForm):
    """One code for each account of the journal; tax's only where there is tax."""

    def __init__(self, *args: Any, registered: bool, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.asked = [one for one in Account if registered or one not in OF_TAX]
        for account in self.asked:
            self.fields[account.value] = forms.RegexField(
                r"^[A-Za-z0-9.-]+$",
                label=account.label,
                max_length=12,
                error_messages={"invalid": "Use letters, digits, dots and dashes."},
            )

    @property
    def helper(self) -> FormHelper:
        """Two accounts in a row."""
        names = [account.value for account in self.asked]
        return page_helper(*(row(*names[n : n + 2]) for n in range(0, len(names), 2)))

    def clean(self) -> dict[str, Any]:
        """Refuse one code for two accounts."""
        data = super().clean() or self.cleaned_data
        hidden = [one for one in Account if one not in self.asked]
        seen = {self.initial[one.value]: one.label for one in hidden}
        for account in self.asked:
            code = data.get(account.value)
            if code and code in seen:
                self.add_error(account.value, f"“{seen[code]}” has this code.")
            elif code:
                seen[code] = account.label
        return data


class BooksForm(ProfileForm):
    """How long periods are, when tax is due or a year begins, what a drive is worth."""

    period_months = forms.TypedChoiceField(
        label="A period of the books is a", choices=LENGTHS.items(), coerce=int
    )
    period_first_month = forms.TypedChoiceField(
        label="and one begins in",
        choices=list(enumerate(MONTHS, start=1)),
        coerce=int,
    )
    tax_basis = forms.ChoiceField(
        label="Tax on sales is due",
        choices=TaxBasis.choices,
        help_text=(
            "A change counts from the first day that is not closed: close first what "
            "was filed as it was. Ask whoever files for you before you change it."
        ),
    )
    year_first_day = forms.IntegerField(
        label="A year of income begins on day",
        min_value=1,
        max_value=31,
        help_text="As your tax office has it; such as 1 January",
    )
    year_first_month = forms.TypedChoiceField(
        label="of", choices=list(enumerate(MONTHS, start=1)), coerce=int
    )
    distance_unit = forms.ChoiceField(
        label="Drives are in", choices=DistanceUnit.choices
    )
    rate = forms.DecimalField(
        label="Worth of one",
        required=False,
        min_value=0,
        max_value=100,
        decimal_places=4,
        help_text="In your currency, as your tax office allows it; such as 0.45",
        widget=forms.TextInput(attrs={"inputmode": "decimal", "maxlength": "8"}),
    )

    coin = MoneyField(
        "GBP",
        label="Smallest coin that cash is rounded to",
        required=False,
        help_text="Such as 0.05; empty: cash is not rounded",
    )

    facts = (
        *("period_months", "period_first_month", "tax_basis", "distance_unit"),
        *("year_first_day", "year_first_month"),
    )

    def __init__(self, *args: Any, profile: StudioProfile) -> None:
        super().__init__(*args, profile=profile)
        cast("MoneyField", self.fields["coin"]).use_currency(profile.currency)
        unused = ("year_first_day", "year_first_month")
        for name in unused if profile.tax_registered else ("tax_basis",):
            del self.fields[name]

    @classmethod
    def initial_of(cls, profile: StudioProfile) -> dict[str, Any]:
        """Return what the boxes show of the profile."""
        digits = exponent(profile.currency) + 2
        minor = profile.distance_rate_minor_hundredths
        rate = plain_number(decimal_from_minor(minor, digits)) if minor else ""
        coin = coin_of(profile.currency, profile)
        return super().initial_of(profile) | {
            "rate": rate,
            "coin": decimal_from_minor(coin, exponent(profile.currency)) or "",
        }

    @property
    def helper(self) -> FormHelper:
        """Ask when tax is due of a studio in tax, when a year begins of another."""
        year = row(wide("year_first_day", 6, box=3), wide("year_first_month", 6))
        return page_helper(
            row("period_months", "period_first_month"),
            "tax_basis" if self.profile.tax_registered else year,
            row(wide("distance_unit", 6), wide("rate", 6)),
            row(wide("coin", 6)),
        )

    def clean_coin(self) -> Decimal | None:
        """Refuse what is no small coin."""
        coin: Decimal | None = self.cleaned_data["coin"]
        if coin and Money(coin, self.profile.currency).minor > LARGEST_COIN:
            raise forms.ValidationError("That is more than a small coin.")
        return coin

    def clean(self) -> dict[str, Any]:
        """Refuse a first day that not every year has."""
        data = super().clean() or self.cleaned_data
        day, month = data.get("year_first_day"), data.get("year_first_month")
        if day and month and day > monthrange(NO_LEAP_YEAR, month)[1]:
            self.add_error("year_first_day", "That month has not so many days.")
        return data

    def details(self) -> dict[str, Any]:
        """Return the profile's fields."""
        rate = self.cleaned_data["rate"] or Decimal(0)
        digits = exponent(self.profile.currency) + 2
        kept = {
            name: self.cleaned_data[name] for name in self.facts if name in self.fields
        }
        coin = Money(self.cleaned_data["coin"] or Decimal(0), self.profile.currency)
        return kept | {
            "distance_rate_minor_hundredths": int(rate.scaleb(digits)),
            "cash_coin_minor": coin.minor,
            "cash_coin_currency": coin.currency if coin.minor else "",
        }
