"""The forms of a session's hold, and of who comes."""

from __future__ import annotations

from datetime import date, datetime, time, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from django import forms

from jobs.bookings.models import Attendee, Part
from studio.forms import DateField, PhoneField, StudioForm, row_field, studio_lines


class HoldForm(StudioForm):
    """Until when a session is pencilled in."""

    until_day = DateField(label="Hold it until the end of")

    def __init__(self, *args: Any, zone: ZoneInfo, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.zone = zone

    def until(self) -> datetime:
        """Return the moment at which the day is over by the studio's clock."""
        day: date = self.cleaned_data["until_day"]
        return datetime.combine(day + timedelta(days=1), time(), tzinfo=self.zone)


class AttendeeForm(StudioForm):
    """One who comes to a session, or is rung about it."""

    row = row_field()
    name = forms.CharField(max_length=200)
    part = forms.ChoiceField(
        label="Comes as",
        choices=Part.choices,
        initial=Part.SITTER,
        widget=forms.Select(attrs={"class": "width-10"}),
    )
    role = forms.CharField(label="Does, or plays", required=False, max_length=120)
    phone = PhoneField(
        required=False, widget=forms.TextInput(attrs={"type": "tel", "class": "phone"})
    )
    email = forms.EmailField(label="E-mail", required=False, max_length=254)

    def attendee(self) -> Attendee:
        """Return what was typed."""
        data = self.cleaned_data
        names = ("name", "part", "role", "phone", "email")
        kept = {name: data[name] for name in names}
        return Attendee(pk=data["row"], **kept)


AttendeeLines = studio_lines(AttendeeForm, extra=2, most=60)
