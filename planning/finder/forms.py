"""The form of a search: the light, the days, and who and what has to be free."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date, datetime, time, timedelta
from typing import Any, Final, cast

from crispy_forms.bootstrap import InlineCheckboxes
from crispy_forms.helper import FormHelper
from crispy_forms.layout import Field
from django import forms
from django.core.exceptions import ValidationError

from jobs.bookings.choosing import wants_of_kits
from jobs.jobs.models import Job
from jobs.kits.ticks import item_ticks, kit_choices, tick_group, ticked_items
from jobs.places.models import Place
from planning.finder.checks import (
    band_of,
    minute_of,
    wrong_days,
    wrong_hours,
    wrong_light,
)
from planning.finder.queries import Asked
from planning.finder.reasons import NAMES
from planning.finder.wishes import (
    DAY_MIN,
    LONGEST_SESSION_MIN,
    Hours,
    Kind,
    Opening,
    Side,
    Wish,
)
from planning.sites.models import Site, Window
from studio.forms import (
    DateField,
    HeadingField,
    StudioForm,
    TimeField,
    page_helper,
    row,
    wide,
)
from studio.people.models import Person

WEEKDAYS: Final = (
    *((0, "Mon"), (1, "Tue"), (2, "Wed"), (3, "Thu"), (4, "Fri")),
    *((5, "Sat"), (6, "Sun")),
)
SHARES: Final = (
    (100, "all of it"),
    (75, "¾ of it"),
    (50, "half of it"),
    (25, "¼ of it"),
)
SIDES: Final = (
    (Side.ANY.value, "Any side"),
    (Side.LEFT.value, "On the sitter’s left"),
    (Side.RIGHT.value, "On the sitter’s right"),
    (Side.FRONT.value, "From in front of the sitter"),
    (Side.BEHIND.value, "From behind the sitter"),
)
USUAL_WEEKS: Final = 8


class FinderForm(StudioForm):
    """What light is wanted where, in which days and hours, with what free."""

    place = forms.ModelChoiceField(
        Place.objects.none(), label="Place", empty_label="Choose a place"
    )
    job = forms.ModelChoiceField(
        Job.objects.none(), label="For", required=False, empty_label="No job yet"
    )
    kind = forms.ChoiceField(
        label="Light", choices=[(kind.value, NAMES[kind]) for kind in Kind]
    )
    side = forms.ChoiceField(label="Where it stands", choices=SIDES)
    facing = HeadingField(
        label="Sitters look to",
        required=False,
        help_text="225, SW, 225 magnetic; empty if they can turn",
    )
    window = forms.ModelChoiceField(
        Window.objects.none(), label="Window", required=False, empty_label="No window"
    )
    low = forms.FloatField(
        label="Sun at least, degrees up", min_value=-18, max_value=90, required=False
    )
    high = forms.FloatField(
        label="Sun at most, degrees up", min_value=-18, max_value=90, required=False
    )
    minutes = forms.IntegerField(
        label="Session, minutes",
        min_value=15,
        max_value=LONGEST_SESSION_MIN,
        error_messages={
            "min_value": "A session takes 15 minutes at least.",
            "max_value": "A session takes 720 minutes at most.",
        },
    )
    share = forms.TypedChoiceField(label="That light for", choices=SHARES, coerce=int)
    before = forms.IntegerField(
        label="Setting up, minutes", min_value=0, max_value=LONGEST_SESSION_MIN
    )
    after = forms.IntegerField(
        label="Packing up, minutes", min_value=0, max_value=LONGEST_SESSION_MIN
    )
    first_on = DateField(label="From day")
    last_on = DateField(label="To day")
    starts = TimeField(label="Not before", required=False)
    ends = TimeField(label="Over by", required=False)
    weekdays = forms.TypedMultipleChoiceField(
        label="On",
        choices=WEEKDAYS,
        coerce=int,
        widget=forms.CheckboxSelectMultiple,
        error_messages={"required": "Tick at least one day of the week."},
    )

    def __init__(self, *args: Any, at: datetime, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.at = at
        self._choose("place", Place.objects.order_by("name"))
        self._choose("job", Job.objects.open().order_by("-pk"))
        self._choose("window", Window.objects.select_related("room__place"))
        window = cast("Any", self.fields["window"])
        window.label_from_instance = _window_name
        for name in ("job", "window", "low", "high", "facing", "starts", "ends"):
            cast("Any", self.fields[name]).unmarked = True
        self.ticks = {
            "people": tick_group("Who has to be free", _people()),
            "whole_kits": tick_group("Whole kits", kit_choices()),
            **item_ticks(),
        }
        self.fields.update(self.ticks)

    @property
    def helper(self) -> FormHelper:
        """How crispy draws the light, the days and the hours."""
        return page_helper(
            row(wide("place", 6), wide("job", 6)),
            row(wide("kind", 4), wide("side", 4), wide("facing", 4)),
            row(*map(_quarter, ("minutes", "share", "before", "after"))),
            row(*map(_quarter, ("first_on", "last_on", "starts", "ends"))),
            InlineCheckboxes("weekdays"),
            InlineCheckboxes("people"),
        )

    @property
    def more_helper(self) -> FormHelper:
        """How crispy draws what is asked for less often."""
        return page_helper(
            row(_quarter("low"), _quarter("high"), wide("window", 6)), summary=False
        )

    @property
    def kit_helper(self) -> FormHelper:
        """How crispy draws the kit that has to be free."""
        kit = [InlineCheckboxes(name) for name in self._kit_names]
        return page_helper(*kit, summary=False)

    @property
    def kit_is_open(self) -> bool:
        """Whether some kit is ticked, or asked for wrongly."""
        return self._is_open(self._kit_names)

    @property
    def more_is_open(self) -> bool:
        """Whether heights or a window were given, or one of them is wrong."""
        return self._is_open(("low", "high", "window"))

    @property
    def _kit_names(self) -> list[str]:
        return [name for name in self.ticks if name != "people"]

    def _is_open(self, names: Iterable[str]) -> bool:
        return any(self[name].value() or name in self.errors for name in names)

    def clean(self) -> dict[str, Any]:
        """Check what depends on two answers at once."""
        cleaned: dict[str, Any] = super().clean() or self.cleaned_data
        for name, sentence in self._refusals(cleaned):
            if name not in self.errors:
                self.add_error(name, sentence)
        if (facing := cleaned.get("facing")) and cleaned.get("place"):
            try:
                cleaned["facing_deg"] = facing.true_deg(_declination(cleaned["place"]))
            except ValidationError as refusal:
                self.add_error("facing", refusal)
        return cleaned

    def asked(self, *, by_date: bool = False) -> Asked:
        """Return what was asked for."""
        data = self.cleaned_data
        ticked = ticked_items(data)
        of_kits = wants_of_kits(data["whole_kits"], already=ticked)
        return Asked(
            wish=self._wish(),
            place=data["place"],
            job=data["job"],
            person_ids=tuple(sorted(data["people"])),
            item_ids=tuple(sorted(of_kits.item_ids | ticked)),
            one_of=of_kits.fillers,
            by_date=by_date,
        )

    def _wish(self) -> Wish:
        data = self.cleaned_data
        window, kind = data["window"], Kind(data["kind"])
        opening = window and Opening(
            facing_deg=window.facing_deg, obstruction_deg=window.obstruction_deg
        )
        low, high = band_of(kind, data)
        return Wish(
            kind=kind,
            hours=self._hours(),
            not_before=self.at,
            minutes=data["minutes"],
            share=data["share"] / 100.0,
            band_deg=(low, high),
            side=Side(data["side"]),
            facing_deg=data.get("facing_deg"),
            opening=opening or None,
            before_minutes=data["before"],
            after_minutes=data["after"],
        )

    def _hours(self) -> Hours:
        data = self.cleaned_data
        return Hours(
            first_on=data["first_on"],
            days=(data["last_on"] - data["first_on"]).days + 1,
            weekdays=frozenset(data["weekdays"]),
            from_minute=minute_of(data["starts"]) or 0,
            until_minute=minute_of(data["ends"]) or DAY_MIN,
            access_from=data["place"].access_from,
            access_until=data["place"].access_until,
        )

    def _refusals(self, data: dict[str, Any]) -> Iterator[tuple[str, str]]:
        yield from wrong_days(data, self.at)
        yield from wrong_hours(data)
        if "kind" in data:
            yield from wrong_light(data, Kind(data["kind"]))

    def _choose(self, name: str, queryset: Any) -> None:
        cast("Any", self.fields[name]).queryset = queryset


def usual_search(*, today: date, person: Person) -> dict[str, Any]:
    """Return what the form shows before anybody has asked for anything."""
    return {
        "kind": Kind.LOW_SUN.value,
        "side": Side.ANY.value,
        "minutes": 120,
        "share": 50,
        "before": 30,
        "after": 0,
        "first_on": today,
        "last_on": today + timedelta(weeks=USUAL_WEEKS),
        "weekdays": [number for number, _ in WEEKDAYS],
        "starts": time(8),
        "ends": time(21),
        "people": [person.pk],
    }


def _quarter(name: str) -> Field:
    """Let a field take a quarter of a row, half of it on a phone."""
    return Field(name, wrapper_class="span-3 half")


def _declination(place: Place) -> float | None:
    sites = Site.objects.filter(place=place)
    return sites.values_list("declination_deg", flat=True).first()


def _window_name(window: Window) -> str:
    return f"{window.room.place.name[:40]}: {window}"


def _people() -> list[tuple[int, str]]:
    people = Person.objects.filter(is_active=True).order_by("name", "pk")
    return [(person.pk, str(person)) for person in people]
