"""The form of blocked time."""

from __future__ import annotations

from datetime import date, datetime, time, timedelta
from typing import Any, cast

from django import forms
from django.core.exceptions import ValidationError

from jobs.away.operations import Absence, BlockedTimeError
from studio.forms import DateField, StudioForm, TimeField, local_instant, pair
from studio.forms.instants import Which
from studio.people.models import Person
from studio.profile.models import StudioProfile

WHOLE = "studio"


class AwayForm(StudioForm):
    """Whose time is blocked, from when until when, and why."""

    who = forms.ChoiceField(label="Who")
    from_day = DateField(label="From")
    from_clock = TimeField(label="At", required=False, help_text="Empty: all day")
    until_day = DateField(label="Until, and with")
    until_clock = TimeField(label="At", required=False, help_text="Empty: all day")
    why = forms.CharField(
        label="Why",
        max_length=120,
        help_text="Such as Holiday; everybody here reads it",
    )

    layout = (
        "who",
        pair("from_day", "from_clock"),
        pair("until_day", "until_clock"),
        "why",
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        people = Person.objects.filter(is_active=True).order_by("name", "pk")
        self.people = {str(person.pk): person for person in people}
        cast("forms.ChoiceField", self.fields["who"]).choices = [
            *((key, str(person)) for key, person in self.people.items()),
            (WHOLE, "The whole studio"),
        ]
        for name in ("from_clock", "until_clock"):
            cast("Any", self.fields[name]).unmarked = True

    def clean(self) -> dict[str, Any]:
        """Find the moments by the studio's clock."""
        cleaned: dict[str, Any] = super().clean() or self.cleaned_data
        first, last = cleaned.get("from_day"), cleaned.get("until_day")
        if not first or not last or self.errors:
            return cleaned
        try:
            cleaned["absence"] = Absence(
                person=self.people.get(cleaned["who"]),
                starts_at=_moment(first, cleaned.get("from_clock"), Which.FIRST),
                ends_at=_end(last, cleaned.get("until_clock")),
                why=cleaned["why"],
            )
        except BlockedTimeError as refusal:
            self.add_error("until_day", str(refusal))
        except ValidationError as refusal:
            self.add_error(None, refusal)
        return cleaned


def _end(day: date, clock: time | None) -> datetime:
    """Return the end: that of the whole day where no clock time is given."""
    if clock is None:
        return _moment(day + timedelta(days=1), None, Which.FIRST)
    return _moment(day, clock, Which.SECOND)


def _moment(day: date, clock: time | None, which: Which) -> datetime:
    """Return a moment by the studio's clock; of two equal ones the wider choice."""
    zone = StudioProfile.load().zone
    return local_instant(day, clock or time(), zone, which=which)
