"""Forms of ways: how fast one drives, and how long one way takes."""

from __future__ import annotations

from typing import Any, cast

from django import forms

from jobs.places.models import Place
from studio.forms import StudioForm, pair
from studio.profile.forms import ProfileForm


class TravelForm(ProfileForm):
    """How fast ways between places are taken to be."""

    travel_kmh = forms.IntegerField(
        label="Average speed by road, km/h",
        min_value=5,
        max_value=130,
        help_text=(
            "Ways that nobody timed are estimated: straight line times 1.3, at this "
            "speed. Say how long a way really takes on the place’s page"
        ),
    )

    facts = ("travel_kmh",)


class WayForm(StudioForm):
    """How long it takes from one place to another."""

    there = forms.ModelChoiceField(
        Place.objects.none(), label="To or from", empty_label="Choose a place"
    )
    minutes = forms.IntegerField(
        label="Minutes",
        required=False,
        min_value=0,
        max_value=1440,
        help_text="Empty: estimate it",
        widget=forms.NumberInput(attrs={"class": "width-4"}),
    )

    layout = (pair("there", "minutes"),)

    def __init__(self, *args: Any, here: Place, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        choice = cast("forms.ModelChoiceField[Place]", self.fields["there"])
        choice.queryset = Place.objects.exclude(pk=here.pk)
        cast("Any", self.fields["minutes"]).unmarked = True
