"""The form that asks for the light of a date at a place."""

from __future__ import annotations

from typing import Any

from django import forms

from jobs.places.models import Place
from studio.forms import CoordinatesField, DateField, StudioForm, row, wide
from studio.forms.days import Lean


class LightDayForm(StudioForm):
    """A place that is saved, or coordinates, and a date; none of them is needed."""

    place = forms.ModelChoiceField(
        label="Place", queryset=Place.objects.none(), required=False
    )
    position = CoordinatesField(
        label="Or coordinates",
        required=False,
        help_text="54.47, -0.62, or a map’s link",
    )
    on = DateField(label="Date", required=False, lean=Lean.AHEAD)

    layout = (row(wide("place", 4), wide("position", 4), wide("on", 4)),)

    def __init__(self, *args: Any, home_name: str = "", **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        place = self.fields["place"]
        assert isinstance(place, forms.ModelChoiceField)  # noqa: S101 - for the types
        place.queryset = Place.objects.order_by("name")
        place.empty_label = home_name or "Choose a place"
        for field in self.fields.values():
            field.unmarked = True  # type: ignore[attr-defined]
