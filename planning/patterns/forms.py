"""Forms of the library of set-ups."""

from __future__ import annotations

from typing import Any

from django import forms

from planning.patterns.models import Anchor
from studio.forms import StudioForm, TimeField


class KeepForm(StudioForm):
    """Under which name a set-up is kept, and what its time is counted from."""

    name = forms.CharField(label="Name in the library", max_length=120)
    anchor = forms.ChoiceField(
        label="Its time is counted from",
        choices=Anchor.choices,
        widget=forms.RadioSelect,
        initial=Anchor.SUNSET,
    )


class RenameForm(StudioForm):
    """Another name."""

    name = forms.CharField(label="Name in the library", max_length=120)


class BringForm(StudioForm):
    """When a set-up starts in this session, and whether the camera follows the sun."""

    start = TimeField(label="Start")
    keep_sun = forms.BooleanField(
        label="Turn the camera so that the sun stands as it did", required=False
    )


class LibrarySearchForm(forms.Form):
    """Words that a set-up, its job, client or place holds."""

    q = forms.CharField(max_length=100, required=False)

    @property
    def words(self) -> str:
        """What is looked for."""
        cleaned: dict[str, Any] = self.cleaned_data if self.is_valid() else {}
        return str(cleaned.get("q", ""))
