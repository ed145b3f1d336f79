"""The form of a place."""

from __future__ import annotations

from typing import Any

from django import forms

from jobs.places.operations import PlaceDetails
from studio.forms import CoordinatesField, PhoneField, StudioForm, TimeField, pair

FEW_ROWS = {"rows": 2}


class PlaceForm(StudioForm):
    """What is known of a place."""

    name = forms.CharField(max_length=300)
    address = forms.CharField(
        required=False, max_length=400, widget=forms.Textarea(attrs=FEW_ROWS)
    )
    coordinates = CoordinatesField(label="Coordinates")
    is_room = forms.BooleanField(label="Takes one session at a time", required=False)
    meeting_point = forms.CharField(
        label="Where people meet", required=False, max_length=300
    )
    access = forms.CharField(
        required=False, max_length=1000, widget=forms.Textarea(attrs=FEW_ROWS)
    )
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
        "meeting_point",
        "access",
        "access_until",
        "parking",
        "rain_plan",
        "power",
        pair("contact_name", "contact_phone"),
        "notes",
    )

    def details(self) -> PlaceDetails:
        """Return what was typed."""
        data: dict[str, Any] = dict(self.cleaned_data)
        latitude, longitude = data.pop("coordinates")
        return PlaceDetails(latitude_deg=latitude, longitude_deg=longitude, **data)
