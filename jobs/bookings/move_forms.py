"""Forms of moving a session, calling it off, and keeping a spare date for it."""

from __future__ import annotations

from datetime import date, datetime, time, timedelta
from typing import Any, ClassVar, Self, cast

from django import forms
from django.core.exceptions import ValidationError

from jobs.bookings.models import Booking
from studio.forms import (
    DateField,
    LocalDateTime,
    StudioForm,
    TimeField,
    Which,
    WhichField,
    local_instant,
    pair,
)
from studio.timespan import TimeSpan, comes_twice


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
        days = timedelta(days=0 if self._ends_that_day(cleaned, start) else 1)
        cleaned["end_day"] = cleaned["day"] + days
        end = LocalDateTime("end_day", "ends", "which_end").join(self, zone)
        if end is not None and end <= start:
            self.add_error("ends", "The session ends before it starts.")
        elif end is not None:
            cleaned["span"] = TimeSpan(start, end)
        return cleaned

    def _ends_that_day(self, cleaned: dict[str, Any], start: datetime) -> bool:
        """Whether the end is on the day of the start, by a clock set back or not."""
        day, ends, zone = cleaned["day"], cleaned["ends"], self.booking.place.zone
        if ends > start.astimezone(zone).time():
            return True
        if cleaned.get("which_end") != Which.SECOND.value:
            return False
        return local_instant(day, ends, zone, which=Which.SECOND) > start


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

    @classmethod
    def from_address(cls, booking: Booking, *, day: str, starts: str) -> Self:
        """Return a form with the times that an address asks for; why is still open."""
        times = times_from(booking, day or f"{booking.local_start:%Y-%m-%d}", starts)
        form = cls(times | {"version": booking.version}, booking=booking)
        form.errors.pop("because", None)
        return form

    @property
    def span(self) -> TimeSpan | None:
        """The times that were understood, whatever else is still open."""
        if not self.is_bound:
            return None
        self.is_valid()  # it reads what was sent
        return self.cleaned_data.get("span")


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


def times_from(booking: Booking, day: str, starts: str) -> dict[str, str]:
    """Return what a form of times says for a start; the session keeps its length.

    What cannot be read stays as it came, for the form to refuse beside its field. Of
    two equal times the first is proposed, and the form asks.
    """
    starts = starts or f"{booking.local_start:%H:%M}"
    times = {"day": day, "starts": starts, "ends": f"{booking.local_end:%H:%M}"}
    try:
        on, clock = DateField().clean(day), TimeField().clean(starts)
    except ValidationError:
        return times
    return times | _kept_length(booking, on, clock)


def _kept_length(booking: Booking, on: date, clock: time) -> dict[str, str]:
    zone, length = booking.place.zone, booking.span.duration
    try:
        start = local_instant(on, clock, zone, which=Which.FIRST)
    except ValidationError:
        return {"ends": f"{datetime.combine(on, clock) + length:%H:%M}"}
    end = (start + length).astimezone(zone)
    found = {"ends": f"{end:%H:%M}"}
    if comes_twice(start.astimezone(zone)):
        found["which"] = Which.FIRST.value
    if comes_twice(end):
        found["which_end"] = (Which.SECOND if end.fold else Which.FIRST).value
    return found
