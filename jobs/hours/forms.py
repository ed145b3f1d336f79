"""The form of time worked without a clock."""

from __future__ import annotations

import re
from typing import Any, Final

from django import forms
from django.core.exceptions import ValidationError

from jobs.jobs.states import JobStage
from studio.forms import StudioForm, pair

MOST_MINUTES: Final = 24 * 60
_CLOCK: Final = re.compile(r"(\d{1,2}):([0-5]\d)")
_HOURS: Final = re.compile(r"(\d{1,2}(?:[.,]\d{1,2})?)\s*h(?:\s*(\d{1,2})\s*(?:min)?)?")
_MINUTES: Final = re.compile(r"(\d{1,4})\s*(?:min|m)?")


class MinutesField(forms.CharField):
    """A length of time as people write it: 90, 1:30, 1.5 h, 1 h 30."""

    def clean(self, value: Any) -> Any:
        """Return whole minutes."""
        text = str(super().clean(value)).strip().lower()
        minutes = read_minutes(text)
        if minutes is None or not 1 <= minutes <= MOST_MINUTES:
            raise ValidationError(
                "Give a time such as 45, 1:30 or 1.5 h, at most 24 h."
            )
        return minutes


class TimeForm(StudioForm):
    """How long somebody worked, at which stage, and on what."""

    minutes = MinutesField(
        label="Time", max_length=12, help_text="45 (minutes), 1:30 or 1.5 h"
    )
    stage = forms.ChoiceField(choices=JobStage.choices)
    words = forms.CharField(label="On what", required=False, max_length=120)

    layout = (pair("minutes", "stage"), "words")


def read_minutes(text: str) -> int | None:
    """Return the whole minutes that a text means, None where it means none."""
    if found := _CLOCK.fullmatch(text):
        return int(found[1]) * 60 + int(found[2])
    if found := _HOURS.fullmatch(text):
        hours = float(found[1].replace(",", "."))
        return round(hours * 60) + int(found[2] or 0)
    if found := _MINUTES.fullmatch(text):
        return int(found[1])
    return None
