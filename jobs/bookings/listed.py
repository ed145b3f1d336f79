"""Sessions out of a list: each with a client, a job and a time at a known place."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from typing import Any, ClassVar
from zoneinfo import ZoneInfo

from django import forms
from django.core.exceptions import ValidationError
from django.db import transaction

from jobs.bookings.models import Booking
from jobs.bookings.operations import (
    BookingWish,
    complete_booking,
    confirm_booking,
    pencil_booking,
    propose_booking,
)
from jobs.bookings.states import BookingStatus
from jobs.clients.models import Client
from jobs.clients.operations import ClientDetails, add_client
from jobs.clients.queries import same_client
from jobs.jobs.operations import Enquiry, mark_booked, mark_shot, open_job
from jobs.places.models import Place
from studio.forms import DateField, PhoneField, StudioForm, TimeField, local_instant
from studio.people.models import Person
from studio.timespan import TimeSpan

HELD: timedelta = timedelta(days=14)


@dataclass(frozen=True, slots=True, kw_only=True)
class ListedSession:
    """One session of a list, as it was read."""

    client: ClientDetails
    title: str
    place: Place
    span: TimeSpan
    state: str


class ListedSessionForm(StudioForm):
    """One row of a list of sessions."""

    CONFIRMED: ClassVar[str] = BookingStatus.CONFIRMED.value
    PENCILLED: ClassVar[str] = BookingStatus.PENCILLED.value
    DONE: ClassVar[str] = BookingStatus.COMPLETED.value

    name = forms.CharField(max_length=200)
    phone = PhoneField(required=False)
    email = forms.EmailField(label="E-mail", required=False, max_length=254)
    title = forms.CharField(max_length=200)
    day = DateField()
    starts = TimeField()
    ends = TimeField()
    place = forms.CharField(max_length=300)
    state = forms.ChoiceField(
        choices=[(one, one) for one in (CONFIRMED, PENCILLED, DONE)]
    )

    def clean_place(self) -> Place:
        """Find the place by its name."""
        name = self.cleaned_data["place"]
        found = list(Place.objects.filter(name__iexact=name)[:2])
        if len(found) == 1:
            return found[0]
        if found:
            raise ValidationError("Two places have this name; give one another first.")
        raise ValidationError("No place has this name: add it under Places first.")

    def clean(self) -> dict[str, Any]:
        """Find the moments that the place's clock shows at the times given."""
        cleaned: dict[str, Any] = super().clean() or self.cleaned_data
        if not {"day", "starts", "ends", "place"} <= set(cleaned):
            return cleaned
        day, zone = cleaned["day"], cleaned["place"].zone
        over_night = cleaned["ends"] <= cleaned["starts"]
        start = self._moment("starts", day, cleaned["starts"], zone)
        end = self._moment(
            "ends", day + timedelta(days=over_night), cleaned["ends"], zone
        )
        if start and end:
            cleaned["span"] = TimeSpan(start, end)
        return cleaned

    def session(self) -> ListedSession:
        """Return what the row says."""
        data = self.cleaned_data
        return ListedSession(
            client=ClientDetails(
                name=data["name"], phone=data["phone"], email=data["email"]
            ),
            title=data["title"],
            place=data["place"],
            span=data["span"],
            state=data["state"],
        )

    def _moment(
        self, name: str, day: date, clock: time, zone: ZoneInfo
    ) -> datetime | None:
        try:
            return local_instant(day, clock, zone)
        except ValidationError as refusal:
            self.add_error(name, refusal)
            return None


def standing_session(session: ListedSession) -> Booking | None:
    """Return the session of this start and title that is in the diary already."""
    same = Booking.objects.filter(
        starts_at=session.span.start, job__title__iexact=session.title
    )
    return same.exclude(status=BookingStatus.CANCELLED).first()


@transaction.atomic
def add_session(*, session: ListedSession, by: Person, at: datetime) -> Booking:
    """Write a session down with its job, held as firmly as the list says.

    Raises ClashError, BookingTimeError.
    """
    job = open_job(
        client=_client(session.client, by=by, at=at),
        enquiry=Enquiry(title=session.title),
        by=by,
        at=at,
    )
    wish = BookingWish(
        place=session.place,
        starts_at=session.span.start,
        ends_at=session.span.end,
        person_ids=(by.pk,),
    )
    booking = propose_booking(job=job, wish=wish, by=by, at=at)
    if session.state == BookingStatus.PENCILLED:
        return pencil_booking(booking_id=booking.pk, until=at + HELD, by=by, at=at)
    booking = confirm_booking(booking_id=booking.pk, by=by, at=at)
    mark_booked(job_id=job.pk, by=by, at=at)
    if session.state == BookingStatus.COMPLETED:
        booking = complete_booking(booking_id=booking.pk, by=by, at=at)
        mark_shot(job_id=job.pk, by=by, at=at)
    return booking


def _client(details: ClientDetails, *, by: Person, at: datetime) -> Client:
    known = same_client(name=details.name, phone=details.phone, email=details.email)
    return known or add_client(details=details, by=by, at=at)
