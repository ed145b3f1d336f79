"""The form of a session."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

from django import forms

from jobs.bookings.operations import BookingWish
from jobs.kits.models import KitItem
from jobs.places.models import Place
from studio.forms import (
    DateField,
    LocalDateTime,
    StudioForm,
    TimeField,
    WhichField,
    pair,
)
from studio.people.models import Person


class SessionForm(StudioForm):
    """Where, when, with whom and with what."""

    place = forms.ModelChoiceField(Place.objects.order_by("name"))
    day = DateField(label="Date")
    starts = TimeField(label="From")
    which = WhichField()
    ends = TimeField(label="To", help_text="Before the start means the next day.")
    setting_up_minutes = forms.IntegerField(
        label="Minutes to set up", min_value=0, max_value=720, initial=30
    )
    people = forms.ModelMultipleChoiceField(
        Person.objects.filter(is_active=True),
        required=False,
        widget=forms.CheckboxSelectMultiple,
    )
    kit = forms.ModelMultipleChoiceField(
        KitItem.objects.in_use(),
        required=False,
        widget=forms.CheckboxSelectMultiple,
    )
    weather_decision = forms.CharField(
        label="Who decides on the weather, and by when", required=False, max_length=300
    )

    layout = (
        "place",
        "day",
        pair("starts", "ends"),
        "which",
        "setting_up_minutes",
        "people",
        "kit",
        "weather_decision",
    )

    def clean(self) -> dict[str, Any]:
        """Join day and clock by the place's zone; an early end is the next day's."""
        cleaned: dict[str, Any] = super().clean() or self.cleaned_data
        place, ends = cleaned.get("place"), cleaned.get("ends")
        if place is None or ends is None or cleaned.get("day") is None:
            return cleaned
        start = LocalDateTime("day", "starts", "which").join(self, place.zone)
        if start is None:
            return cleaned
        local = start.astimezone(place.zone)
        end = local.replace(hour=ends.hour, minute=ends.minute, fold=0)
        if ends <= local.time():
            end += timedelta(days=1)
        cleaned["span"] = (start, end)
        return cleaned

    def wish(self) -> BookingWish:
        """Return what was typed."""
        data = self.cleaned_data
        start, end = data["span"]
        return BookingWish(
            place=data["place"],
            starts_at=start,
            ends_at=end,
            setting_up_minutes=data["setting_up_minutes"],
            person_ids=tuple(one.pk for one in data["people"]),
            kit_item_ids=tuple(one.pk for one in data["kit"]),
            weather_decision=data["weather_decision"],
        )
