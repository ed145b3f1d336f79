"""Forms of jobs."""

from __future__ import annotations

from typing import Any

from django import forms

from studio.forms import DateField, PhoneField, StudioForm, pair


class EnquiryForm(StudioForm):
    """What somebody asked for, while still on the phone."""

    name = forms.CharField(label="Name", max_length=200)
    phone = PhoneField(required=False)
    email = forms.EmailField(label="E-mail", required=False)
    wish = forms.CharField(
        label="What they wish",
        max_length=4000,
        widget=forms.Textarea(attrs={"rows": 4}),
    )
    wished_on = DateField(label="Date they have in mind", required=False)

    layout = ("name", pair("phone", "email"), "wish", "wished_on")

    def clean(self) -> dict[str, Any]:
        """Ask for one way to reach them."""
        cleaned: dict[str, Any] = super().clean() or self.cleaned_data
        if not cleaned.get("phone") and not cleaned.get("email"):
            self.add_error("phone", "Give a phone number or an e-mail address.")
        return cleaned


class LostForm(StudioForm):
    """Why a job was not taken."""

    because = forms.CharField(label="Why not?", max_length=200)
