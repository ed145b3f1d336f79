"""The forms of the studio's own facts, on the first day and in Settings."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, ClassVar, cast

from django import forms

from studio.countries import country_choices
from studio.forms import (
    HintedRadios,
    PhoneField,
    StudioForm,
)
from studio.profile.models import StudioProfile
from studio.profile.patterns import PatternError, check_pattern

Posted = Mapping[str, Any]
"""What a browser sent."""


class ProfileForm(StudioForm):
    """A form over facts of the profile; `facts` names the plain ones."""

    facts: ClassVar[tuple[str, ...]] = ()

    def __init__(self, data: Posted | None, *, profile: StudioProfile) -> None:
        super().__init__(data, initial=self.initial_of(profile))
        self.profile = profile

    @classmethod
    def initial_of(cls, profile: StudioProfile) -> dict[str, Any]:
        """Return what the boxes show of the profile."""
        return {name: getattr(profile, name) for name in cls.facts}

    def details(self) -> dict[str, Any]:
        """Return the profile's fields."""
        return {name: self.cleaned_data[name] for name in self.facts}


class WhoForm(ProfileForm):
    """Whose studio it is, as papers and pages for clients say it."""

    trading_name = forms.CharField(
        label="Name of the studio",
        max_length=120,
        help_text="As it stands on quotes and invoices",
    )
    owner_name = forms.CharField(
        label="Your own name",
        max_length=120,
        widget=forms.TextInput(attrs={"autocomplete": "name"}),
    )
    address = forms.CharField(
        max_length=400,
        help_text="It stands on invoices",
        widget=forms.Textarea(attrs={"rows": 3, "autocomplete": "street-address"}),
    )
    country = forms.ChoiceField(
        required=False,
        choices=country_choices,
        help_text="E-invoices name it",
    )
    phone = PhoneField(
        required=False, help_text="The one number that clients and sitters ring"
    )
    email = forms.EmailField(
        label="E-mail",
        required=False,
        help_text="Answers of clients go there",
        widget=forms.EmailInput(attrs={"autocomplete": "email"}),
    )

    facts = ("trading_name", "owner_name", "address", "country", "phone", "email")


class WaysForm(ProfileForm):
    """The studio's usual days, and what makes a date firm."""

    reply_days = forms.IntegerField(
        label="You answer enquiries within", min_value=0, max_value=30
    )
    quote_days = forms.IntegerField(
        label="A quote’s price holds for", min_value=1, max_value=365
    )
    deposit_days = forms.IntegerField(
        label="The deposit is paid within", min_value=0, max_value=365
    )
    payment_days = forms.IntegerField(
        label="Invoices are paid within", min_value=0, max_value=365
    )
    pictures_days = forms.IntegerField(
        label="Pictures are ready within", min_value=0, max_value=365
    )
    acceptance_confirms = forms.ChoiceField(
        label="What makes a date firm?",
        choices=[("deposit", "The deposit"), ("yes", "The client’s yes")],
        widget=HintedRadios(
            {
                "deposit": "A yes holds the date in pencil until the deposit is due",
                "yes": "The date is firm at once; the deposit can come later",
            }
        ),
    )

    facts = (
        "reply_days",
        "quote_days",
        "deposit_days",
        "payment_days",
        "pictures_days",
    )

    def __init__(self, data: Posted | None, *, profile: StudioProfile) -> None:
        super().__init__(data, profile=profile)
        for name in self.facts:
            field = cast("Any", self.fields[name])
            field.after = "working days" if name == "reply_days" else "days"
            field.widget.attrs["class"] = "width-4"

    @classmethod
    def initial_of(cls, profile: StudioProfile) -> dict[str, Any]:
        """Return what the boxes show of the profile."""
        how = "yes" if profile.acceptance_confirms else "deposit"
        return super().initial_of(profile) | {"acceptance_confirms": how}

    def details(self) -> dict[str, Any]:
        """Return the profile's fields."""
        at_once = self.cleaned_data["acceptance_confirms"] == "yes"
        return super().details() | {"acceptance_confirms": at_once}


def _words(label: str, longest: int, rows: int, hint: str = "") -> forms.CharField:
    return forms.CharField(
        label=label,
        required=False,
        max_length=longest,
        help_text=hint,
        widget=forms.Textarea(attrs={"rows": rows}),
    )


class WordsForm(ProfileForm):
    """The texts that clients read: terms, and what to know before the session."""

    terms = _words("Terms", 6000, 9, "Printed with each quote, one point a line")
    moving_words = _words("Moving or cancelling a session", 600, 3)
    weather_words = _words("If the weather is bad", 600, 3)
    withdrawal_words = _words(
        "Changing one’s mind after saying yes",
        1200,
        4,
        "Private customers often have a right to withdraw; what it says depends on "
        "where you work",
    )
    wear_words = _words("What to wear", 1200, 4, "One thing a line")
    bring_words = _words("What to bring", 1200, 3, "One thing a line")

    facts = (
        "terms",
        "moving_words",
        "weather_words",
        "withdrawal_words",
        "wear_words",
        "bring_words",
    )


class NumbersForm(ProfileForm):
    """How the numbers of each series are written."""

    quote_pattern = forms.CharField(
        label="Quotes",
        max_length=40,
        help_text=(
            "{year} is filled in with the year, {place:03d} with the place in it, "
            "written with three digits"
        ),
    )
    job_pattern = forms.CharField(label="Jobs", max_length=40)
    invoice_pattern = forms.CharField(label="Invoices", max_length=40)
    credit_note_pattern = forms.CharField(label="Credit notes", max_length=40)

    facts = ("quote_pattern", "job_pattern", "invoice_pattern", "credit_note_pattern")

    def clean(self) -> dict[str, Any]:
        """Check each pattern, and that no two series look alike."""
        cleaned: dict[str, Any] = super().clean() or self.cleaned_data
        seen: dict[str, str] = {}
        for name in self.facts:
            pattern = cleaned.get(name)
            if not pattern:
                continue
            try:
                sample = check_pattern(pattern)
            except PatternError as refusal:
                self.add_error(name, str(refusal))
                continue
            if sample in seen:
                other = self.fields[seen[sample]].label
                said = f"{other} are written alike: one number could mean either."
                self.add_error(name, said)
            seen.setdefault(sample, name)
        return cleaned


class PublicForm(ProfileForm):
    """Where clients reach this machine, and where nightly copies go."""

    public_address = forms.URLField(
        label="Public address",
        required=False,
        assume_scheme="https",
        help_text=(
            "The address under which clients reach this machine, such as "
            "https://studio.example. Without one, quotes go out as a PDF and no link"
        ),
    )
    backup_dir = forms.CharField(
        label="Folder for nightly copies",
        required=False,
        max_length=300,
        help_text="The whole path on this machine, best on another disk",
    )

    facts = ("public_address", "backup_dir")

    def clean_public_address(self) -> str:
        """Keep only what links start with."""
        address: str = self.cleaned_data["public_address"]
        return address.rstrip("/")
