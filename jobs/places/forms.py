"""The form of a place."""

from __future__ import annotations

from typing import Any, cast

from django import forms
from django.urls import reverse

from jobs.places.models import Place
from jobs.places.operations import PlaceDetails
from studio.forms import (
    CoordinatesField,
    PhoneField,
    StudioForm,
    TimeField,
    group,
    pair,
)

FEW_ROWS = {"rows": 2}


class PlaceForm(StudioForm):
    """What is known of a place."""

    name = forms.CharField(max_length=300)
    address = forms.CharField(
        required=False, max_length=400, widget=forms.Textarea(attrs=FEW_ROWS)
    )
    coordinates = CoordinatesField(
        label="Where it is",
        help_text="Paste latitude and longitude, or a link to a map",
    )
    is_room = forms.BooleanField(
        label="Takes one session at a time",
        required=False,
        help_text="A room or studio: a second session at the same time is refused",
    )
    meeting_point = forms.CharField(
        label="Where people meet", required=False, max_length=300
    )
    access = forms.CharField(
        label="How to get in",
        required=False,
        max_length=1000,
        widget=forms.Textarea(attrs=FEW_ROWS),
    )
    access_from = TimeField(label="Access begins at", required=False)
    access_until = TimeField(label="Access ends at", required=False)
    parking = forms.CharField(required=False, max_length=600)
    rain_plan = forms.CharField(label="If it rains", required=False, max_length=600)
    power = forms.CharField(required=False, max_length=300)
    contact_name = forms.CharField(
        label="Whom to ask there", required=False, max_length=160
    )
    contact_phone = PhoneField(label="Their phone", required=False)
    notes = forms.CharField(
        required=False, max_length=2000, widget=forms.Textarea(attrs=FEW_ROWS)
    )

    layout = (
        "name",
        "address",
        "coordinates",
        "is_room",
        group(
            "On the day",
            "meeting_point",
            "access",
            pair("access_from", "access_until"),
            "parking",
            "rain_plan",
            "power",
        ),
        group("Good to know", pair("contact_name", "contact_phone"), "notes"),
    )

    def __init__(self, *args: Any, place: Place | None = None, **kwargs: Any) -> None:
        if place is not None:
            kwargs["initial"] = _initial(place)
        super().__init__(*args, **kwargs)
        coordinates = cast("CoordinatesField", self.fields["coordinates"])
        first = f"Goes by the clock of {place.time_zone}." if place else ""
        coordinates.echo_from(reverse("jobs:position_echo"), first=first)

    def details(self) -> PlaceDetails:
        """Return what was typed."""
        data: dict[str, Any] = dict(self.cleaned_data)
        latitude, longitude = data.pop("coordinates")
        return PlaceDetails(latitude_deg=latitude, longitude_deg=longitude, **data)


def _initial(place: Place) -> dict[str, Any]:
    initial = {name: getattr(place, name) for name in PlaceDetails.__dataclass_fields__}
    initial["coordinates"] = (place.latitude_deg, place.longitude_deg)
    return initial
