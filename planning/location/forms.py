"""What a tap on location sends."""

from __future__ import annotations

from datetime import datetime, timedelta

from django import forms

LATEST_AHEAD = timedelta(minutes=2)
LONGEST_KEPT = timedelta(days=3)


class TickForm(forms.Form):
    """One tap: of what, done or taken back, and when by the phone's clock."""

    key = forms.CharField(max_length=40)
    is_done = forms.BooleanField(required=False)
    tapped_at = forms.CharField(max_length=40, required=False)

    def tapped(self, now: datetime) -> datetime:
        """Return when it was tapped, by the phone where that can be, else now."""
        try:
            given = datetime.fromisoformat(self.cleaned_data["tapped_at"])
        except ValueError:
            return now
        if given.tzinfo is None or not (
            now - LONGEST_KEPT <= given <= now + LATEST_AHEAD
        ):
            return now
        return min(given, now)
