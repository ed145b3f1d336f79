"""The studio's home place, as Settings and the first day ask for it."""

from __future__ import annotations

from datetime import datetime
from typing import Any, cast

from django import forms
from django.db import transaction

from jobs.enquiries import sections as enquiries
from jobs.places.models import Place
from jobs.places.operations import PlaceDetails, add_place, change_place
from jobs.ways import sections as ways
from studio.forms import CoordinatesField
from studio.people.models import Person
from studio.profile.forms import Posted, ProfileForm
from studio.profile.models import StudioProfile
from studio.profile.operations import change_profile
from studio.sections import Section, add_section

__all__ = ["HomeForm", "enquiries", "ways"]


class HomeForm(ProfileForm):
    """Where the studio is, or a place already kept."""

    place = forms.ModelChoiceField(
        Place.objects.none(),
        label="A place that you keep already",
        required=False,
        empty_label="A new one",
    )
    home_name = forms.CharField(
        label="What you call it",
        required=False,
        max_length=120,
        help_text="Such as “The studio”, or your village",
    )
    position = CoordinatesField(
        label="Where it is",
        required=False,
        help_text=(
            "Paste latitude and longitude, or a link to a map. Daylight and the time "
            "zone follow from it"
        ),
    )
    is_room = forms.BooleanField(
        label="I take pictures here, one session at a time", required=False
    )

    def __init__(self, data: Posted | None, *, profile: StudioProfile) -> None:
        super().__init__(data, profile=profile)
        for name in ("home_name", "position"):
            cast("Any", self.fields[name]).unmarked = True
        choice = cast("forms.ModelChoiceField[Place]", self.fields["place"])
        choice.queryset = Place.objects.all()
        if not Place.objects.exists():
            del self.fields["place"]

    @classmethod
    def initial_of(cls, profile: StudioProfile) -> dict[str, Any]:
        """Return what the boxes show of the home place."""
        place = _home(profile)
        known = profile.home_latitude is not None and profile.home_longitude is not None
        return {
            "place": place.pk if place else None,
            "home_name": profile.home_name,
            "position": (profile.home_latitude, profile.home_longitude)
            if known
            else None,
            "is_room": place.is_room if place else False,
        }

    def clean(self) -> dict[str, Any]:
        """Ask for a name and a position where no kept place is chosen."""
        cleaned: dict[str, Any] = super().clean() or self.cleaned_data
        chosen, standing = cleaned.get("place"), _home(self.profile)
        if chosen and chosen != standing:
            return cleaned
        if not cleaned.get("home_name"):
            self.add_error("home_name", "Give the place a name.")
        if not cleaned.get("position") and "position" not in self.errors:
            self.add_error("position", "Paste where it is, such as 54.47, -0.62.")
        return cleaned


@transaction.atomic
def save_home(form: HomeForm, by: Person, at: datetime) -> None:
    """Keep the home place among the places, and its clock as the studio's."""
    place = _kept_place(form, by, at)
    details = {
        "home_name": place.name[:120],
        "home_latitude": place.latitude_deg,
        "home_longitude": place.longitude_deg,
        "time_zone": place.time_zone,
    }
    change_profile(details=details, by=by, at=at)


def told_of_home(profile: StudioProfile) -> str:
    """Return where the studio is, and whose clock it goes by."""
    if profile.home_latitude is None:
        return ""
    return f"{profile.home_name}, clock of {profile.time_zone.replace('_', ' ')}"


def _kept_place(form: HomeForm, by: Person, at: datetime) -> Place:
    data, standing = form.cleaned_data, _home(form.profile)
    chosen: Place | None = data.get("place")
    if chosen and chosen != standing:
        return chosen
    latitude_deg, longitude_deg = data["position"]
    details = PlaceDetails(
        name=data["home_name"],
        latitude_deg=latitude_deg,
        longitude_deg=longitude_deg,
        is_room=data["is_room"],
        address=standing.address if standing else form.profile.address,
    )
    if chosen is None or standing is None:
        return add_place(details=details, by=by, at=at)
    kept = {
        name: getattr(standing, name)
        for name in PlaceDetails.__dataclass_fields__
        if name not in {"name", "latitude_deg", "longitude_deg", "is_room"}
    }
    moved = PlaceDetails(
        name=details.name,
        latitude_deg=latitude_deg,
        longitude_deg=longitude_deg,
        is_room=details.is_room,
        **kept,
    )
    return change_place(place_id=standing.pk, details=moved, by=by, at=at)


def _home(profile: StudioProfile) -> Place | None:
    if profile.home_latitude is None or profile.home_longitude is None:
        return None
    return Place.objects.filter(
        name=profile.home_name,
        latitude_deg=profile.home_latitude,
        longitude_deg=profile.home_longitude,
    ).first()


add_section(
    Section(
        slug="where",
        name="Where you work",
        hint="Your studio’s place, for daylight and the clock",
        order=30,
        make_form=lambda data, profile: HomeForm(data, profile=profile),
        save=save_home,
        told=told_of_home,
        is_first=True,
    )
)
