"""How quotes are followed up, and what an hour of the studio's time is worth."""

from __future__ import annotations

from typing import Any, cast

from django import forms

from studio.forms import HintedRadios, MoneyField
from studio.money import Money, decimal_from_minor, exponent
from studio.profile.forms import Posted, ProfileForm
from studio.profile.models import StudioProfile


class QuotesForm(ProfileForm):
    """When clients are reminded of a quote, and by whom; what an hour is worth."""

    quote_reminder_days = forms.IntegerField(
        label="Remind a client so long before a price runs out",
        min_value=0,
        max_value=60,
        help_text="0 for no reminder",
    )
    quote_reminder_by_itself = forms.ChoiceField(
        label="How does the reminder go?",
        choices=[("no", "I look at it first"), ("yes", "By itself")],
        widget=HintedRadios(
            {
                "no": "Today says when one is due; you read the letter and send it",
                "yes": "Once for each version, after nine in the morning",
            }
        ),
    )
    hour_worth = MoneyField(
        label="What an hour of yours should earn",
        required=False,
        help_text="Only you see it, beside what a quote leaves you",
    )

    layout = ("quote_reminder_days", "quote_reminder_by_itself", "hour_worth")
    facts = ("quote_reminder_days",)

    def __init__(self, data: Posted | None, *, profile: StudioProfile) -> None:
        super().__init__(data, profile=profile)
        days = cast("Any", self.fields["quote_reminder_days"])
        days.after = "days"
        days.widget.attrs["class"] = "width-4"
        worth = cast("MoneyField", self.fields["hour_worth"])
        worth.use_currency(profile.currency)

    @classmethod
    def initial_of(cls, profile: StudioProfile) -> dict[str, Any]:
        """Return what the boxes show of the profile."""
        worth = decimal_from_minor(profile.hour_worth_minor, exponent(profile.currency))
        by_itself = "yes" if profile.quote_reminder_by_itself else "no"
        return super().initial_of(profile) | {
            "quote_reminder_by_itself": by_itself,
            "hour_worth": worth or None,
        }

    def details(self) -> dict[str, Any]:
        """Return the profile's fields."""
        data = self.cleaned_data
        worth = data["hour_worth"]
        currency = self.profile.currency
        return super().details() | {
            "quote_reminder_by_itself": data["quote_reminder_by_itself"] == "yes",
            "hour_worth_minor": Money(worth, currency).minor if worth else 0,
        }
