"""The forms of a person's calendar, and of a round of invitations."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, Final, cast

from crispy_forms.bootstrap import InlineCheckboxes
from crispy_forms.helper import FormHelper
from django import forms
from django.core.exceptions import ValidationError

from jobs.calendars.busy import MOST_BYTES
from jobs.calendars.fetching import FetchError, check_address
from jobs.calendars.invitations import GuestRow, Round
from jobs.calendars.models import Detail
from studio.forms import HintedRadios, StudioForm, page_helper

ALARMS: Final = (
    ("", "None"),
    ("30", "30 minutes before"),
    ("60", "An hour before"),
    ("120", "Two hours before"),
    ("1440", "A day before"),
)


class FeedForm(StudioForm):
    """What a person's feed tells, and when it rings."""

    detail = forms.ChoiceField(
        label="What it tells",
        choices=Detail.choices,
        initial=Detail.TIMES,
        widget=HintedRadios(
            {
                Detail.TIMES: "Fit for a calendar that a company keeps for you",
                Detail.PLACES: "Whoever has the address reads them too",
            }
        ),
    )
    alarm = forms.ChoiceField(
        label="Reminder before being on site",
        choices=ALARMS,
        required=False,
        initial="60",
    )

    def alarm_minutes(self) -> int | None:
        """Return when the reminder comes; None for never."""
        chosen = self.cleaned_data["alarm"]
        return int(chosen) if chosen else None


class BusyForm(StudioForm):
    """A calendar to read busy times from: behind an address, or in a file."""

    name = forms.CharField(
        label="What you call it", max_length=80, help_text="Such as “Family”"
    )
    address = forms.CharField(
        label="Address of the calendar",
        required=False,
        max_length=1000,
        help_text="Starts with https:// or webcal:// and is read every hour",
        widget=forms.TextInput(attrs={"type": "url", "autocomplete": "off"}),
    )
    file = forms.FileField(
        label="Or a calendar file",
        required=False,
        help_text="An .ics file of 4 MB at most, read once",
    )

    def clean_address(self) -> str:
        """Refuse what the studio would not fetch from."""
        address: str = self.cleaned_data["address"]
        if address:
            try:
                check_address(address)
            except FetchError as refusal:
                raise ValidationError(str(refusal)) from refusal
        return address

    def clean(self) -> dict[str, Any]:
        """Ask for one of the two."""
        cleaned: dict[str, Any] = super().clean() or self.cleaned_data
        file = cleaned.get("file")
        if file and file.size > MOST_BYTES:
            self.add_error("file", "The file is larger than 4 MB.")
        if {"address", "file"} & set(self.errors):
            return cleaned
        if bool(cleaned.get("address")) == bool(file):
            self.add_error("address", "Give an address or a file: one of the two.")
        return cleaned


class InviteForm(StudioForm):
    """Who gets a session by mail, from whom it is taken back, and a word with it."""

    words = forms.CharField(
        label="A word with it",
        required=False,
        max_length=2000,
        widget=forms.Textarea(attrs={"rows": 4}),
        help_text="It stands between the greeting and the facts of the session",
    )

    def __init__(
        self, *args: Any, rows: Sequence[GuestRow], may_invite: bool, **kwargs: Any
    ) -> None:
        super().__init__(*args, **kwargs)
        self.rows = rows
        fresh = [row for row in rows if row.has != "current"] if may_invite else []
        holders = [row for row in rows if row.has in {"current", "older"}]
        self.fields["to"] = _ticks(
            "Send it to", fresh, ticked=[row for row in fresh if row.has == "older"]
        )
        self.fields["back"] = _ticks(
            "Take it back from", holders, ticked=[] if may_invite else holders
        )
        for name, offered in (("to", fresh), ("back", holders)):
            if not offered:
                del self.fields[name]

    @property
    def helper(self) -> FormHelper:
        """How crispy draws the form."""
        ticks = [name for name in ("to", "back") if name in self.fields]
        return page_helper(*(InlineCheckboxes(name) for name in ticks), "words")

    def clean(self) -> dict[str, Any]:
        """Ask for somebody, and for one thing with each."""
        cleaned: dict[str, Any] = super().clean() or self.cleaned_data
        to, back = cleaned.get("to", []), cleaned.get("back", [])
        if not to and not back and not self.errors:
            first = "to" if "to" in self.fields else "back"
            self.add_error(first if first in self.fields else None, "Choose somebody.")
        if set(to) & set(back):
            self.add_error("back", "Send it to somebody or take it back, not both.")
        return cleaned

    def round(self) -> Round:
        """Return what is to be sent."""
        to, back = self.cleaned_data.get("to", []), self.cleaned_data.get("back", [])
        return Round(
            guests=tuple(row.guest for row in self.rows if row.guest.address in to),
            withdrawn=tuple(back),
            words=self.cleaned_data["words"],
        )


def _ticks(
    label: str, rows: Sequence[GuestRow], *, ticked: Sequence[GuestRow]
) -> forms.MultipleChoiceField:
    field = forms.MultipleChoiceField(
        label=label,
        required=False,
        choices=[
            (row.guest.address, f"{row.guest.name} ({row.words.lower()})")
            for row in rows
        ],
        initial=[row.guest.address for row in ticked],
        widget=forms.CheckboxSelectMultiple,
    )
    cast("Any", field).unmarked = True
    return field
