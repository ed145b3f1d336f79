"""The forms of handing a pack out: to whom, and in which words."""

from __future__ import annotations

import secrets
from datetime import timedelta
from typing import Any

from django import forms

from invoicing.sharing.operations import Reader
from studio.forms import StudioForm, row, wide


class ReaderForm(StudioForm):
    """Who gets the pack, and for how long."""

    name = forms.CharField(label="Their name", max_length=120)
    address = forms.EmailField(
        label="Their e-mail",
        required=False,
        help_text="Empty: nothing is sent, and you pass the page on yourself",
    )
    days = forms.IntegerField(
        label="Opens for so many days", min_value=1, max_value=90, initial=14
    )
    form_key = forms.CharField(widget=forms.HiddenInput, max_length=64)

    layout = (
        row(wide("name", 6), wide("address", 6)),
        row(wide("days", 3)),
        "form_key",
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.initial.setdefault("form_key", secrets.token_hex(16))

    @property
    def reader(self) -> Reader:
        """The reader that was written down."""
        data = self.cleaned_data
        return Reader(
            name=data["name"],
            address=data["address"],
            lasts=timedelta(days=data["days"]),
            form_key=data["form_key"],
        )


class LetterForm(StudioForm):
    """The letter, before it goes."""

    subject = forms.CharField(max_length=200)
    words = forms.CharField(
        max_length=4000,
        widget=forms.Textarea(attrs={"rows": 12}),
        help_text="The page’s address takes the place of {link}.",
    )
