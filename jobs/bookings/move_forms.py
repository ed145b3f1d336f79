"""Forms of moving a session, calling it off, and keeping a spare date for it."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import Any, ClassVar, cast

from django import forms

from jobs.bookings.models import Booking
from studio.forms import (
    DateField,
    LocalDateTime,
    StudioForm,
    TimeField,
    WhichField,
    pair,
)
from studio.timespan import TimeSpan


class TimesForm(StudioForm):
    """A day and times by the clock of a session's place."""

    day = DateField(label="Date")
    starts = TimeField(label="From")
    which = WhichField()
    ends = TimeField(label="To")
    which_end = WhichField(label="Which of the two is the end?")

    layout: ClassVar[tuple[object, ...]] = (
        "day",
        pair("starts", "ends"),
        "which",
        "which_end",
    )

    def __init__(self, *args: Any, booking: Booking, **kwargs: Any) -> None:
        start, end = booking.local_start, booking.local_end
        usual = {"day": start.date(), "starts": start.time(), "ends": end.time()}
        kwargs["initial"] = usual | kwargs.get("initial", {})
        super().__init__(*args, **kwargs)
        self.booking = booking

    def clean(self) -> dict[str, Any]:
        """Find the moments; an end that is not after the start is the next day's."""
        cleaned: dict[str, Any] = super().clean() or self.cleaned_data
        zone = self.booking.place.zone
        start = LocalDateTime("day", "starts", "which").join(self, zone)
        ends = cleaned.get("ends")
        if start is None or ends is None:
            return cleaned
        days = timedelta(days=1 if ends <= start.astimezone(zone).time() else 0)
        cleaned["end_day"] = cleaned["day"] + days
        end = LocalDateTime("end_day", "ends", "which_end").join(self, zone)
        if end is not None and end <= start:
            self.add_error("ends", "The session ends before it starts.")
        elif end is not None:
            cleaned["span"] = TimeSpan(start, end)
        return cleaned


class MoveForm(TimesForm):
    """To when a session is moved, and why; `seen` says for when effects were shown."""

    because = forms.CharField(
        label="Why?", max_length=200, help_text="It stands in the job’s history"
    )
    version = forms.IntegerField(required=False, widget=forms.HiddenInput)

    layout = (*TimesForm.layout, "because", "version")

    def __init__(self, *args: Any, booking: Booking, **kwargs: Any) -> None:
        kwargs["initial"] = {"version": booking.version}
        super().__init__(*args, booking=booking, **kwargs)


class OffForm(StudioForm):
    """Why a session is called off."""

    because = forms.CharField(
        label="Why?", max_length=200, help_text="It stands in the job’s history"
    )


class SpareForm(TimesForm):
    """A spare date, and by when one of the two is chosen."""

    decide_day = DateField(label="Decide on")
    decide_clock = TimeField(label="By")
    decide_which = WhichField()

    layout = (*TimesForm.layout, pair("decide_day", "decide_clock"), "decide_which")

    def __init__(self, *args: Any, booking: Booking, **kwargs: Any) -> None:
        before = booking.local_start - timedelta(days=1)
        kwargs["initial"] = {
            "day": booking.local_start.date() + timedelta(days=1),
            "decide_day": before.date(),
            "decide_clock": before.replace(hour=12, minute=0).time(),
        }
        super().__init__(*args, booking=booking, **kwargs)

    def clean(self) -> dict[str, Any]:
        """Find the moment of the decision, by the clock of the place."""
        cleaned = super().clean()
        decide = LocalDateTime("decide_day", "decide_clock", "decide_which")
        cleaned["decide_by"] = decide.join(self, self.booking.place.zone)
        return cleaned

    def decide_by(self) -> datetime:
        """Return by when one of the two dates is chosen."""
        return cast("datetime", self.cleaned_data["decide_by"])
