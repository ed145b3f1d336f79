"""Prices and terms, as the first day asks for them; how the books are kept."""

from __future__ import annotations

from datetime import datetime
from decimal import Decimal
from typing import Any, Final, cast

from django import forms
from django.db import transaction

from invoicing.books.forms import LENGTHS, BooksForm
from invoicing.prices.models import PriceItem
from invoicing.prices.operations import add_price, change_price
from invoicing.quotes.settings_form import QuotesForm
from studio.forms import MoneyField, row, wide
from studio.money import Money, decimal_from_minor, exponent
from studio.people.models import Person
from studio.profile.forms import Posted, ProfileForm
from studio.profile.models import StudioProfile
from studio.profile.operations import change_profile
from studio.profile.usual_words import TERMS
from studio.sections import Section, add_section

PLACES: Final = (1, 2, 3)
EXAMPLES: Final = ("Family session, 90 minutes", "Portrait, one hour", "Extra hour")


class PricesForm(ProfileForm):
    """What three things cost, and the terms that go with every quote."""

    what_1 = forms.CharField(label="What you sell", required=False, max_length=200)
    price_1 = MoneyField("GBP", label="Price", required=False)
    what_2 = forms.CharField(label="Something else", required=False, max_length=200)
    price_2 = MoneyField("GBP", label="Its price", required=False)
    what_3 = forms.CharField(label="A third thing", required=False, max_length=200)
    price_3 = MoneyField("GBP", label="Its price", required=False)
    terms = forms.CharField(
        label="Your terms",
        required=False,
        max_length=6000,
        help_text="Printed with each quote, one point a line",
        widget=forms.Textarea(attrs={"rows": 9}),
    )

    layout = (
        *(row(wide(f"what_{n}", 8), wide(f"price_{n}", 4)) for n in PLACES),
        "terms",
    )

    def __init__(self, data: Posted | None, *, profile: StudioProfile) -> None:
        super().__init__(data, profile=profile)
        for n, example in zip(PLACES, EXAMPLES, strict=True):
            what, price = self.fields[f"what_{n}"], self.fields[f"price_{n}"]
            cast("Any", what).unmarked = cast("Any", price).unmarked = True
            what.widget.attrs["placeholder"] = example
            cast("MoneyField", price).use_currency(profile.currency)

    @classmethod
    def initial_of(cls, profile: StudioProfile) -> dict[str, Any]:
        """Return the first prices of the list, and the terms or words to start from."""
        initial: dict[str, Any] = {"terms": profile.terms or TERMS}
        digits = exponent(profile.currency)
        for n, item in zip(PLACES, _first_prices(), strict=False):
            initial[f"what_{n}"] = item.name
            initial[f"price_{n}"] = decimal_from_minor(item.unit_price_minor, digits)
        return initial

    def clean(self) -> dict[str, Any]:
        """Ask for the other half of what was half written."""
        cleaned: dict[str, Any] = super().clean() or self.cleaned_data
        for n in PLACES:
            what, price = cleaned.get(f"what_{n}"), cleaned.get(f"price_{n}")
            if what and price is None and f"price_{n}" not in self.errors:
                self.add_error(f"price_{n}", "Write its price.")
            if price is not None and not what:
                self.add_error(f"what_{n}", "Say what costs that.")
        return cleaned

    def prices(self) -> list[tuple[str, Decimal | None]]:
        """Return what was written in each place; an empty one has no price."""
        data = self.cleaned_data
        return [(data[f"what_{n}"], data[f"price_{n}"]) for n in PLACES]


@transaction.atomic
def save_prices(form: PricesForm, by: Person, at: datetime) -> None:
    """Put the prices on the list, and keep the terms."""
    standing = _first_prices()
    for place, (what, price) in enumerate(form.prices()):
        item = standing[place] if place < len(standing) else None
        if price is None:
            if item:
                change_price(item_id=item.pk, details={"retired": True}, by=by, at=at)
            continue
        minor = Money(price, form.profile.currency).minor
        details = {"name": what, "unit_price_minor": minor}
        if item is None:
            add_price(details=details, by=by, at=at)
        elif (item.name, item.unit_price_minor) != (what, minor):
            change_price(item_id=item.pk, details=details, by=by, at=at)
    change_profile(details={"terms": form.cleaned_data["terms"]}, by=by, at=at)


def told_of_prices(profile: StudioProfile) -> str:
    """Return the names of what is sold; nothing while the list is empty."""
    return ", ".join(item.name for item in _first_prices())


def _first_prices() -> list[PriceItem]:
    return list(PriceItem.objects.offered().order_by("pk")[: len(PLACES)])


def told_of_books(profile: StudioProfile) -> str:
    """Return how long a period of the books is."""
    return f"Closed by the {LENGTHS[profile.period_months].lower()}"


def save_books(form: BooksForm, by: Person, at: datetime) -> None:
    """Keep how the books are cut into periods."""
    change_profile(details=form.details(), by=by, at=at)


add_section(
    Section(
        slug="books",
        name="Books",
        hint="How periods and years run, what a drive is worth, how cash is rounded",
        order=45,
        make_form=lambda data, profile: BooksForm(data, profile=profile),
        save=save_books,
        told=told_of_books,
    )
)


def told_of_quotes(profile: StudioProfile) -> str:
    """Return when clients are reminded of a quote."""
    days = profile.quote_reminder_days
    if not days:
        return "No reminders"
    how = "by itself" if profile.quote_reminder_by_itself else "once you have read it"
    return f"A reminder {days} {'day' if days == 1 else 'days'} before, {how}"


def save_quotes(form: QuotesForm, by: Person, at: datetime) -> None:
    """Keep how quotes are followed up."""
    change_profile(details=form.details(), by=by, at=at)


add_section(
    Section(
        slug="quotes",
        name="Quotes",
        hint="Reminders before a price runs out, and what an hour is worth",
        order=55,
        make_form=lambda data, profile: QuotesForm(data, profile=profile),
        save=save_quotes,
        told=told_of_quotes,
    )
)
add_section(
    Section(
        slug="prices",
        name="Prices and terms",
        hint="Three prices to quote from, and your usual terms",
        order=40,
        make_form=lambda data, profile: PricesForm(data, profile=profile),
        save=save_prices,
        told=told_of_prices,
        is_first=True,
        is_kept=False,
    )
)
