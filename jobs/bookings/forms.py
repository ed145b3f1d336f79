"""The forms of a session: when and where, its hold, and who comes."""

from __future__ import annotations

from datetime import date, datetime, time, timedelta
from typing import Any, Final, cast

from crispy_forms.bootstrap import InlineCheckboxes
from crispy_forms.helper import FormHelper
from django import forms
from django.core.exceptions import ValidationError
from django.db.models import Q
from django.urls import reverse

from jobs.bookings.choosing import items_of_kits
from jobs.bookings.models import Booking
from jobs.bookings.sessions import SessionDraft
from jobs.kits.ticks import (
    PREFIX,
    field_of,
    item_ticks,
    kit_choices,
    tick_group,
    ticked_items,
)
from jobs.places.models import Place
from jobs.places.operations import PlaceDetails
from jobs.places.zones import time_zone_at
from studio.forms import (
    CoordinatesField,
    DateField,
    LocalDateTime,
    StudioForm,
    TimeField,
    WhichField,
    branch,
    group,
    page_helper,
    pair,
)
from studio.forms.instants import DOUBLE_HOUR, Which, local_instant
from studio.people.models import Person
from studio.timespan import TimeSpan

NEW: Final = "new"
LONGEST_SETTING_UP: Final = 720


class SessionForm(StudioForm):
    """Where, when, with whom and with what a session is."""

    place = forms.ChoiceField(label="Place")
    new_name = forms.CharField(label="Its name", required=False, max_length=300)
    new_address = forms.CharField(
        label="Address",
        required=False,
        max_length=400,
        widget=forms.Textarea(attrs={"rows": 2}),
    )
    new_position = CoordinatesField(
        label="Where it is",
        required=False,
        help_text="Paste latitude and longitude, or a link to a map",
    )
    day = DateField(label="Date")
    starts = TimeField(label="From")
    which = WhichField()
    ends = TimeField(label="To")
    which_end = WhichField(label="Which of the two is the end?")
    setting_up_minutes = forms.IntegerField(
        label="Setting up before, minutes",
        min_value=0,
        max_value=LONGEST_SETTING_UP,
        initial=30,
        widget=forms.NumberInput(attrs={"class": "width-4", "step": "5"}),
    )
    packing_minutes = forms.IntegerField(
        label="Packing after, minutes",
        required=False,
        min_value=0,
        max_value=LONGEST_SETTING_UP,
        initial=15,
        widget=forms.NumberInput(attrs={"class": "width-4", "step": "5"}),
    )
    weather_decision = forms.CharField(
        label="Who decides on the weather, and by when",
        required=False,
        max_length=300,
        help_text="Such as “Decided by 13:00; we ring you”",
    )
    version = forms.IntegerField(required=False, widget=forms.HiddenInput)

    def __init__(
        self, *args: Any, booking: Booking | None = None, **kwargs: Any
    ) -> None:
        if booking is not None:
            kwargs["initial"] = _initial(booking) | (kwargs.get("initial") or {})
        super().__init__(*args, **kwargs)
        self.booking = booking
        cast("forms.ChoiceField", self.fields["place"]).choices = _places()
        also = Q(reservations__booking=booking) if booking else None
        self.ticks = {
            "people": tick_group("Who works", _people(booking)),
            "whole_kits": tick_group("Whole kits", kit_choices()),
            **item_ticks(also=also),
        }
        self.fields.update(self.ticks)
        for name in ("new_name", "new_position", "packing_minutes"):
            cast("Any", self.fields[name]).unmarked = True

    @property
    def helper(self) -> FormHelper:
        """How crispy draws the form: kit by category, side by side."""
        kit = [name for name in self.ticks if name != "people"]
        return page_helper(
            "place",
            branch("new_name", "new_address", "new_position"),
            "day",
            pair("starts", "ends"),
            "which",
            "which_end",
            pair("setting_up_minutes", "packing_minutes"),
            InlineCheckboxes("people"),
            group("Kit to keep for it", *(InlineCheckboxes(name) for name in kit)),
            "weather_decision",
            "version",
        )

    def clean(self) -> dict[str, Any]:
        """Find the place, and the moments that its clock shows at the times given."""
        cleaned: dict[str, Any] = super().clean() or self.cleaned_data
        place = self._chosen_place()
        cleaned["spot"] = place
        if place is None or cleaned.get("day") is None:
            return cleaned
        start = LocalDateTime("day", "starts", "which").join(self, place.zone)
        end = self._end(place, start) if start else None
        cleaned["span"] = TimeSpan(start, end) if start and end else None
        return cleaned

    def listen(self, url: str, *, first: str) -> None:
        """Fetch the line under the date when anything of the form changes."""
        day = cast("DateField", self.fields["day"])
        day.echo_from(url, first=first)
        day.widget.attrs["hx-trigger"] = (
            "change from:closest form delay:200ms, keyup changed delay:600ms"
        )
        position = cast("CoordinatesField", self.fields["new_position"])
        position.echo_from(reverse("jobs:position_echo"))

    def blame(self, resource: str) -> str | None:
        """Return the field that asked for a thing, None where there is none."""
        kind, _, key = resource.partition(":")
        if kind == "room":
            return "place"
        for name, field in self.ticks.items():
            fits = name == "people" if kind == "person" else name.startswith(PREFIX)
            offered = {str(value) for value, _ in cast("Any", field).choices}
            if fits and key in offered:
                return name
        return None

    def draft(self, *, hold_until: datetime | None = None) -> SessionDraft:
        """Return what was typed."""
        data, place = self.cleaned_data, self.cleaned_data["spot"]
        return SessionDraft(
            place=place if place.pk else _details(place),
            starts_at=data["span"].start,
            ends_at=data["span"].end,
            setting_up_minutes=data["setting_up_minutes"],
            packing_minutes=data["packing_minutes"] or 0,
            person_ids=tuple(data["people"]),
            kit_item_ids=self.item_ids(),
            weather_decision=data["weather_decision"],
            hold_until=hold_until,
        )

    def item_ids(self) -> tuple[int, ...]:
        """Return the items ticked, and those of the whole kits ticked."""
        ticked = ticked_items(self.cleaned_data)
        of_kits = items_of_kits(
            self.cleaned_data.get("whole_kits", []),
            span=self._kept_span(),
            already=ticked,
            but=self.booking,
        )
        return tuple(sorted(of_kits | ticked))

    def _kept_span(self) -> TimeSpan | None:
        """Return for how long its things are kept, with setting up and packing."""
        data = self.cleaned_data
        span: TimeSpan | None = data.get("span")
        if span is None:
            return None
        before = timedelta(minutes=data.get("setting_up_minutes") or 0)
        after = timedelta(minutes=data.get("packing_minutes") or 0)
        return TimeSpan(span.start - before, span.end + after)

    def _chosen_place(self) -> Place | None:
        cleaned = self.cleaned_data
        chosen = cleaned.get("place")
        if chosen and chosen != NEW:
            return Place.objects.get(pk=chosen)
        if chosen != NEW:
            return None
        if not cleaned.get("new_name") and "new_name" not in self.errors:
            self.add_error("new_name", "Give the new place a name.")
        position = cleaned.get("new_position")
        if position is None:
            if "new_position" not in self.errors:
                self.add_error("new_position", "Paste where it is: 54.47, -0.62.")
            return None
        return Place(
            name=cleaned.get("new_name", ""),
            address=cleaned.get("new_address", ""),
            latitude_deg=position[0],
            longitude_deg=position[1],
            time_zone=time_zone_at(*position),
        )

    def _end(self, place: Place, start: datetime) -> datetime | None:
        """Return the end: an end that is not after the start is the next day's."""
        day, ends = self.cleaned_data["day"], self.cleaned_data.get("ends")
        if ends is None:
            return None
        if ends <= start.astimezone(place.zone).time():
            day += timedelta(days=1)
        self.cleaned_data["end_day"] = day
        if _only_second(day, ends, place, start):
            self.cleaned_data["which_end"] = Which.SECOND.value
        end = LocalDateTime("end_day", "ends", "which_end").join(self, place.zone)
        if end is not None and end <= start:
            self.add_error("ends", "The session ends before it starts.")
            return None
        return end


def _initial(booking: Booking) -> dict[str, Any]:
    start, end = booking.local_start, booking.local_end
    wanted = list(booking.reservations.select_related("kit_item"))
    initial: dict[str, Any] = {
        "place": booking.place_id,
        "day": start.date(),
        "starts": start.time(),
        "which": which_of(start),
        "ends": end.time(),
        "which_end": which_of(end),
        "setting_up_minutes": booking.setting_up_minutes,
        "packing_minutes": booking.packing_minutes,
        "people": [row.person_id for row in wanted if row.person_id],
        "weather_decision": booking.weather_decision,
        "version": booking.version,
    }
    for row in wanted:
        if row.kit_item:
            name = field_of(row.kit_item.category)
            initial.setdefault(name, []).append(row.kit_item_id)
    return initial


def which_of(local: datetime) -> str:
    """Return which of two equal clock times a moment is; no matter where it is one."""
    return str((Which.SECOND if local.fold else Which.FIRST).value)


def _only_second(day: date, ends: time, place: Place, start: datetime) -> bool:
    """Say whether only the second of two equal clock times lies after the start."""
    try:
        local_instant(day, ends, place.zone)
    except ValidationError as refusal:
        if refusal.code == DOUBLE_HOUR:
            return local_instant(day, ends, place.zone, which=Which.FIRST) <= start
    return False


def _details(place: Place) -> PlaceDetails:
    return PlaceDetails(
        name=place.name,
        address=place.address,
        latitude_deg=place.latitude_deg,
        longitude_deg=place.longitude_deg,
    )


def _places() -> list[tuple[str, str]]:
    kept = [
        (str(pk), name[:80]) for pk, name in Place.objects.values_list("pk", "name")
    ]
    return [("", "Choose a place"), *kept, (NEW, "A new place")]


def _people(booking: Booking | None) -> list[tuple[int, str]]:
    wanted = Q(is_active=True)
    if booking:
        wanted |= Q(reservations__booking=booking)
    people = Person.objects.filter(wanted).distinct().order_by("name", "pk")
    return [(person.pk, str(person)) for person in people]
