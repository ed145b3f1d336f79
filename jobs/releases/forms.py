"""Forms of sitters, of what they are asked to allow, and of what became of it."""

from __future__ import annotations

from datetime import date
from typing import Any, Final

from django import forms

from jobs.releases.models import Use
from jobs.releases.operations import Asked, SitterDetails
from studio.files.operations import MOST_BYTES
from studio.forms import DateField, PhoneField, StudioForm, pair
from studio.forms.days import Lean

AGREED: Final = "I have read this and allow it"


class SitterForm(StudioForm):
    """Somebody who is photographed."""

    name = forms.CharField(label="Name", max_length=200)
    is_child = forms.BooleanField(
        label="A child, for whom somebody else decides", required=False
    )
    guardian_name = forms.CharField(
        label="Parent or guardian",
        required=False,
        max_length=200,
        help_text="Only for a child",
    )
    email = forms.EmailField(
        label="E-mail",
        required=False,
        max_length=254,
        help_text="Of whoever signs: the guardian for a child",
    )
    phone = PhoneField(required=False)
    notes = forms.CharField(
        required=False, max_length=1000, widget=forms.Textarea(attrs={"rows": 3})
    )

    layout = ("name", "is_child", "guardian_name", pair("email", "phone"), "notes")

    def clean(self) -> dict[str, Any]:
        """Ask who decides for a child."""
        cleaned: dict[str, Any] = super().clean() or self.cleaned_data
        if cleaned.get("is_child") and not cleaned.get("guardian_name"):
            self.add_error("guardian_name", "Say who decides for the child.")
        return cleaned

    def details(self) -> SitterDetails:
        """Return what was typed."""
        return SitterDetails(**self.cleaned_data)


class ReleaseForm(StudioForm):
    """What somebody is asked to allow."""

    uses = forms.MultipleChoiceField(
        label="What pictures may be used for",
        choices=Use.choices,
        widget=forms.CheckboxSelectMultiple,
    )
    until_on = DateField(
        label="Until",
        required=False,
        help_text="Without a day it holds until it is taken back",
    )
    limits = forms.CharField(
        label="Limits",
        required=False,
        max_length=600,
        help_text="Such as no names, or only pictures from behind",
        widget=forms.Textarea(attrs={"rows": 2}),
    )

    def asked(self) -> Asked:
        """Return what is asked for."""
        data = self.cleaned_data
        uses = tuple(Use(one) for one in data["uses"])
        return Asked(uses=uses, until_on=data["until_on"], limits=data["limits"])


class PaperForm(StudioForm):
    """That a release was signed on paper."""

    name = forms.CharField(label="Who signed", max_length=200)
    signed_on = DateField(label="On", lean=Lean.BACK)
    scan = forms.FileField(
        label="Scan or photograph of the paper",
        help_text="PDF, JPEG, PNG or WebP, 12 MB at most.",
    )

    def __init__(self, *args: Any, today: date, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.today = today

    def clean_signed_on(self) -> date:
        """Refuse a day that is still to come."""
        day: date = self.cleaned_data["signed_on"]
        if day > self.today:
            raise forms.ValidationError("Give the day on which it was signed.")
        return day

    def clean_scan(self) -> Any:
        """Refuse what is too large before it is read."""
        scan = self.cleaned_data["scan"]
        if scan.size > MOST_BYTES:
            raise forms.ValidationError("The file is larger than 12 MB.")
        return scan


class WithdrawForm(StudioForm):
    """In what words a use was taken back."""

    words = forms.CharField(label="In their words", required=False, max_length=300)


class PictureUseForm(StudioForm):
    """Where pictures went."""

    where = forms.CharField(
        label="Where",
        max_length=300,
        help_text="An address on the web, a paper and its issue, or a wall",
    )
    used_on = DateField(label="On", lean=Lean.BACK)

    layout = ("where", "used_on")


class SignForm(StudioForm):
    """A name under a release, on its private page."""

    name = forms.CharField(
        label="Your name, as you would sign it",
        max_length=120,
        widget=forms.TextInput(attrs={"autocomplete": "name"}),
    )
    agreed = forms.BooleanField(
        label=AGREED, error_messages={"required": "Tick it, if you allow it."}
    )
    is_guardian = forms.BooleanField(
        label="I am the parent or guardian of this child",
        error_messages={"required": "Only a parent or guardian can sign here."},
    )

    def __init__(self, *args: Any, for_child: bool, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        if not for_child:
            del self.fields["is_guardian"]
