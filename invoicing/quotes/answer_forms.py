"""Forms around a quote that goes out: its letter, the yes, the question."""

from __future__ import annotations

from datetime import datetime
from typing import Any, Final, cast

from crispy_forms.helper import FormHelper
from django import forms

from invoicing.quotes.models import How, Quote
from invoicing.quotes.snapshots import Snapshot, extras_of, packages_of
from jobs.jobs.choices import LostReason
from studio.forms import (
    DateField,
    LocalDateTime,
    StudioForm,
    TimeField,
    WhichField,
    page_helper,
    row,
)
from studio.forms.days import Lean
from studio.profile.models import StudioProfile

CLIENTS_REASONS: Final = {
    LostReason.PRICE.value: "The price",
    LostReason.DATE.value: "The date does not suit",
    LostReason.ELSEWHERE.value: "We chose somebody else",
    LostReason.PUT_OFF.value: "Not now, perhaps later",
    LostReason.OTHER.value: "Something else",
}
BY_HAND: Final = [choice for choice in How.choices if choice[0] != How.PAGE]


class SendForm(StudioForm):
    """The letter that a quote goes out with."""

    subject = forms.CharField(max_length=200)
    body = forms.CharField(
        label="Letter", max_length=4000, widget=forms.Textarea(attrs={"rows": 14})
    )

    def __init__(self, *args: Any, has_page: bool, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.has_page = has_page
        if has_page:
            self.fields[
                "body"
            ].help_text = (
                "Where {link} stands, the address of the client’s private page comes."
            )

    def clean_body(self) -> str:
        """Refuse a letter that lost its link."""
        body: str = self.cleaned_data["body"]
        if self.has_page and "{link}" not in body:
            raise forms.ValidationError(
                "Keep {link} in the letter: without it the client cannot open the page."
            )
        return body


class AcceptForm(StudioForm):
    """The client's yes."""

    summary = False

    name = forms.CharField(
        label="Your full name",
        max_length=200,
        min_length=2,
        help_text="Typed here, it counts as your signature",
        widget=forms.TextInput(attrs={"autocomplete": "name"}),
        error_messages={"required": "Type your full name."},
    )
    may_show = forms.BooleanField(
        label="You may show pictures from this session",
        required=False,
        help_text=(
            "On the studio’s website and in its sample album. Your choice: the price "
            "is the same either way, and you can change it later."
        ),
    )
    agreed = forms.IntegerField(widget=forms.HiddenInput)
    package = forms.TypedChoiceField(
        label="Your package",
        coerce=int,
        error_messages={
            "required": "Choose one of the packages.",
            "invalid_choice": "Choose one of the packages.",
        },
    )

    def __init__(self, *args: Any, snapshot: Snapshot, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        _offer_packages(self, snapshot)
        if "package" in self.fields:  # nothing is agreed to before one is chosen
            self.fields["agreed"].required = False

    def clean_name(self) -> str:
        """Refuse what is no name."""
        name: str = self.cleaned_data["name"]
        if not any(sign.isalpha() for sign in name):
            raise forms.ValidationError("Type your full name.")
        return name


class DeclineForm(StudioForm):
    """The client's no, on their own page."""

    reason = forms.ChoiceField(
        label="Why, if you like to say",
        required=False,
        choices=[("", "I would rather not say"), *CLIENTS_REASONS.items()],
        widget=forms.RadioSelect,
    )
    words = forms.CharField(
        label="Anything that helps us",
        required=False,
        max_length=1000,
        widget=forms.Textarea(attrs={"rows": 3}),
    )


class RecordNoForm(StudioForm):
    """A no that came by phone, e-mail or on paper."""

    reason = forms.ChoiceField(
        label="Why", choices=LostReason.choices, widget=forms.RadioSelect
    )
    words = forms.CharField(
        label="In their words",
        required=False,
        max_length=1000,
        widget=forms.Textarea(attrs={"rows": 3}),
    )


class QuestionForm(StudioForm):
    """What a client asks."""

    words = forms.CharField(
        label="Your question, or the dates that suit you",
        max_length=2000,
        widget=forms.Textarea(attrs={"rows": 5}),
        error_messages={"required": "Write what you want to know."},
    )


class RecordYesForm(StudioForm):
    """A yes that came by phone, e-mail or on paper."""

    name = forms.CharField(label="Who said yes", max_length=200)
    how = forms.ChoiceField(label="How", choices=BY_HAND, widget=forms.RadioSelect)
    said_on = DateField(label="On", lean=Lean.BACK)
    said_at = TimeField(label="At")
    which = WhichField()
    package = forms.TypedChoiceField(
        label="The package they chose", coerce=int, widget=forms.RadioSelect
    )
    extras = forms.MultipleChoiceField(
        label="With these extras", required=False, widget=forms.CheckboxSelectMultiple
    )
    may_show = forms.BooleanField(
        label="They let the studio show pictures from this session", required=False
    )
    scan = forms.FileField(
        label="Scan or photograph of what was signed or written",
        required=False,
        help_text="PDF, JPEG, PNG or WebP, 12 MB at most.",
    )

    def __init__(self, *args: Any, quote: Quote, now: datetime, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.quote, self.now = quote, now
        self.instant: datetime | None = None
        _offer_packages(self, quote.snapshot or {})
        extras = extras_of(quote.snapshot or {"extras": []})
        if extras:
            choices = [(str(pk), line.description) for pk, line in extras]
            cast("forms.MultipleChoiceField", self.fields["extras"]).choices = choices
        else:
            del self.fields["extras"]

    @property
    def helper(self) -> FormHelper:
        """How the form is drawn: packages and extras only where there are some."""
        offered = [name for name in ("package", "extras") if name in self.fields]
        when = row("said_on", "said_at")
        return page_helper("name", "how", when, "which", *offered, "may_show", "scan")

    def clean(self) -> dict[str, Any]:
        """Refuse a yes before the quote went out, or from the future."""
        cleaned: dict[str, Any] = super().clean() or self.cleaned_data
        zone = StudioProfile.load().zone
        self.instant = LocalDateTime("said_on", "said_at", "which").join(self, zone)
        if self.instant is None:
            return cleaned
        if self.instant > self.now:
            self.add_error("said_on", "That time is still to come.")
        elif self.quote.sent_at and self.instant < _minute(self.quote.sent_at):
            self.add_error("said_on", "The quote had not gone out by then.")
        return cleaned


def _offer_packages(form: forms.Form, snapshot: Snapshot) -> None:
    packages = packages_of(snapshot)
    if not packages:
        del form.fields["package"]
        return
    field = cast("forms.ChoiceField", form.fields["package"])
    field.choices = [(str(one.place), one.name) for one in packages]


def _minute(at: datetime) -> datetime:
    return at.replace(second=0, microsecond=0)
