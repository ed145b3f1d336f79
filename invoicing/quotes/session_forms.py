"""When and where a quote says that the session is, as it is typed."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import Any, Final, cast

from crispy_forms.helper import FormHelper
from crispy_forms.layout import Field
from django import forms
from django.core.exceptions import ValidationError

from invoicing.quotes.models import Quote
from invoicing.quotes.sessions import SessionWish, session_of
from jobs.bookings.states import BookingStatus
from jobs.places.models import Place
from studio.forms import (
    DateField,
    LocalDateTime,
    StudioForm,
    TimeField,
    WhichField,
    local_instant,
    page_helper,
    row,
    wide,
)
from studio.forms.instants import Which

_MISSING: Final = {
    "session_on": "Give the session’s date, or leave time and place empty too.",
    "starts": "Say when the session starts.",
    "ends": "Say when the session ends.",
    "place": "Choose a place, or leave the date empty for now.",
}


class SessionFields(StudioForm):
    """The fields of a session: all of them, or none."""

    session_on = DateField(label="Session date", required=False)
    starts = TimeField(label="From", required=False)
    ends = TimeField(label="To", required=False)
    which = WhichField()
    place = forms.ModelChoiceField(Place.objects.none(), required=False)
    booking_version = forms.IntegerField(widget=forms.HiddenInput, required=False)

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.session: SessionWish | None = None
        place = cast("forms.ModelChoiceField[Place]", self.fields["place"])
        place.queryset, place.empty_label = Place.objects.all(), "Not yet"
        for name in ("session_on", "starts", "ends", "place"):
            self.fields[name].unmarked = True  # type: ignore[attr-defined]

    @property
    def session_helper(self) -> FormHelper:
        """How the session's fields stand."""
        clocks = [
            Field(name, wrapper_class="span-2 half") for name in ("starts", "ends")
        ]
        when = row(wide("session_on", 4), *clocks, wide("place", 4))
        return page_helper(when, "which", summary=False)

    def read_session(self) -> None:
        """Take the session up from its fields; what is missing is said beside them."""
        self.session = self._read_session()

    def _read_session(self) -> SessionWish | None:
        data = self.cleaned_data
        names = ("session_on", "starts", "ends", "place")
        if not any(data.get(name) is not None for name in names):
            return None
        for name in names:
            if data.get(name) is None and name not in self.errors:
                self.add_error(name, _MISSING[name])
        if any(name in self.errors for name in names):
            return None
        return self._session(data["place"])

    def _session(self, place: Place) -> SessionWish | None:
        fields = LocalDateTime("session_on", "starts", "which")
        start = fields.join(self, place.zone)
        end = self._end(place, start) if start else None
        if start is None or end is None:
            return None
        return SessionWish(
            place=place,
            starts_at=start,
            ends_at=end,
            booking_version=self.cleaned_data.get("booking_version"),
        )

    def _end(self, place: Place, start: datetime) -> datetime | None:
        """Return when the session ends: the next time that the clocks show it."""
        day, clock = self.cleaned_data["session_on"], self.cleaned_data["ends"]
        if clock <= self.cleaned_data["starts"]:
            day += timedelta(days=1)
        try:
            end = local_instant(day, clock, place.zone, which=Which.FIRST)
            if end <= start:
                end = local_instant(day, clock, place.zone, which=Which.SECOND)
        except ValidationError as refusal:
            self.add_error("ends", refusal)
            return None
        return end


def session_is_held(quote: Quote) -> bool:
    """Say whether the session is moved elsewhere, because it is held already."""
    booking = session_of(quote.job, standing=quote.booking)
    return booking is not None and booking.status != BookingStatus.PROPOSED


def saved_session(quote: Quote) -> SessionWish | None:
    """Return the session that a quote names, or that its job has."""
    booking = session_of(quote.job, standing=quote.booking)
    if booking is None:
        return None
    return SessionWish(
        place=booking.place,
        starts_at=booking.starts_at,
        ends_at=booking.ends_at,
        booking_version=booking.version,
    )


def initial_session(quote: Quote) -> dict[str, Any]:
    """Return what the builder shows of a quote's session."""
    session = saved_session(quote)
    if session is None:
        return {}
    start = session.starts_at.astimezone(session.place.zone)
    end = session.ends_at.astimezone(session.place.zone)
    twice = start.utcoffset() != start.replace(fold=1 - start.fold).utcoffset()
    which = Which.SECOND if start.fold else Which.FIRST
    return {
        "session_on": start.date(),
        "starts": start.time(),
        "ends": end.time(),
        "place": session.place.pk,
        "booking_version": session.booking_version,
        "which": which.value if twice else "",
    }
