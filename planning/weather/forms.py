"""The form that notes weather."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from django import forms

from jobs.bookings.models import Booking
from planning.shoots.instants import instant_in
from planning.weather.scales import MS_IN
from studio.forms import StudioForm, TimeField, row, wide

READ = ("cloud_oktas", "wind", "gust", "rain_mm_h", "temperature_c", "uv_index")


class WeatherForm(StudioForm):
    """What was read, where, and for what time; what is not known stays empty."""

    read_in = forms.CharField(
        label="Where you read it", max_length=160, help_text="Or: looked at the sky."
    )
    at_time = TimeField(label="For what time")
    cloud_oktas = forms.IntegerField(
        label="Cloud, eighths of the sky", min_value=0, max_value=8, required=False
    )
    wind_unit = forms.ChoiceField(
        label="Wind in", choices=[(unit, unit) for unit in MS_IN]
    )
    wind = forms.FloatField(min_value=0, max_value=250, required=False)
    gust = forms.FloatField(label="Gusts", min_value=0, max_value=250, required=False)
    rain_mm_h = forms.FloatField(
        label="Rain, mm an hour", min_value=0, max_value=200, required=False
    )
    temperature_c = forms.FloatField(
        label="Temperature, °C", min_value=-60, max_value=60, required=False
    )
    uv_index = forms.FloatField(
        label="UV index", min_value=0, max_value=25, required=False
    )

    layout = (
        row(wide("read_in", 8), wide("at_time", 4)),
        row(wide("cloud_oktas", 4), wide("temperature_c", 4), wide("uv_index", 4)),
        row(
            wide("wind", 3),
            wide("gust", 3),
            wide("wind_unit", 3),
            wide("rain_mm_h", 3),
        ),
    )

    def clean(self) -> dict[str, Any]:
        """Ask for one figure at least, and for gusts no weaker than the wind."""
        cleaned: dict[str, Any] = super().clean() or self.cleaned_data
        wind, gust = cleaned.get("wind"), cleaned.get("gust")
        if wind is not None and gust is not None and gust < wind:
            self.add_error("gust", "Gusts are at least as strong as the wind.")
        if not self.errors and all(cleaned.get(name) is None for name in READ):
            self.add_error("cloud_oktas", "Write down one figure at least.")
        return cleaned

    def details(self, booking: Booking) -> dict[str, Any]:
        """Return what the form says as the fields of a reading."""
        said = self.cleaned_data
        share = MS_IN[said["wind_unit"]]
        kept = ("read_in", "cloud_oktas", "rain_mm_h", "temperature_c", "uv_index")
        for_at: datetime = instant_in(booking, said["at_time"])
        return {name: said[name] for name in kept} | {
            "for_at": for_at,
            "wind_ms": None if said["wind"] is None else said["wind"] * share,
            "gust_ms": None if said["gust"] is None else said["gust"] * share,
        }
