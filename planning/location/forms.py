"""What a tap on location sends."""

from __future__ import annotations

from datetime import datetime

from django import forms

from studio.kept import ImpossibleTimeError, made_at


class TickForm(forms.Form):
    """One tap: of what, done or taken back, and when by the phone's clock."""

    key = forms.CharField(max_length=40)
    is_done = forms.BooleanField(required=False)
    tapped_at = forms.CharField(max_length=40, required=False)

    def tapped(self, now: datetime) -> datetime:
        """Return when it was tapped, by the phone where that can be, else now."""
        try:
            return made_at(self.cleaned_data["tapped_at"], now)
        except ImpossibleTimeError:
            return now
