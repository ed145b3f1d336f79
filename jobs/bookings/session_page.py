"""What the page of a session knows: its form, the line under its date, and what
stands where somebody else was quicker."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, time
from typing import Any, Final, cast

from django import forms
from django.urls import reverse
from django.utils.datastructures import MultiValueDict

from jobs.bookings.asked import AskedSession
from jobs.bookings.forms import SessionForm, which_of
from jobs.bookings.holding import ClashError, wanted_reservations
from jobs.bookings.models import Booking
from jobs.bookings.queries import echo_sentence
from jobs.jobs.models import Job
from jobs.kits.models import KitItem
from jobs.kits.ticks import field_of
from studio.errors import DomainError
from studio.forms.instants import DOUBLE_HOUR, MISSING_HOUR
from studio.forms.places import position_text
from studio.wording import day_date

Posted = MultiValueDict[str, str]
CLOCK_FIELDS: Final = ("starts", "which", "ends", "which_end")


@dataclass(frozen=True, slots=True, kw_only=True)
class Beside:
    """One fact of a session as it stands, beside what was typed."""

    what: str
    stands: str
    typed: str


class SessionPage:
    """A job's session on its page, as it stands or as it was typed."""

    def __init__(
        self,
        job: Job,
        booking: Booking | None,
        *,
        posted: Posted | None,
        asked: AskedSession | None = None,
    ) -> None:
        self.job = job
        self.booking = booking
        self.asked = asked
        self.refusal = ""
        self.beside: list[Beside] = []
        self.said = ""
        self.form = self._form(posted)

    def echo(self) -> str:
        """Return what the tool makes of the day and times."""
        form = self.form
        if not form.is_bound:
            return self._standing_echo()
        form.is_valid()
        data: dict[str, Any] = form.cleaned_data
        doubts = " ".join(self._doubts())
        place, span = data.get("spot"), data.get("span")
        if place is None or span is None:
            said = echo_sentence(place, data.get("day"), None)
            return f"{said} {doubts}".strip()
        typed = Booking(
            pk=self.booking.pk if self.booking else None,
            place=place,
            starts_at=span.start,
            ends_at=span.end,
            setting_up_minutes=data.get("setting_up_minutes") or 0,
            packing_minutes=data.get("packing_minutes") or 0,
        )
        wanted = wanted_reservations(typed, data.get("people", []), form.item_ids())
        return echo_sentence(place, data["day"], span, wanted)

    def drawn(self) -> SessionForm:
        """Return the form, ready to be drawn."""
        url = reverse("jobs:session_echo", args=[self.job.pk])
        self.form.listen(url, first=self.said or self.echo())
        return self.form

    def refuse(self, refusal: DomainError) -> None:
        """Set a refusal beside the field that asked for too much."""
        self.said = self.echo()
        resource = refusal.resource if isinstance(refusal, ClashError) else ""
        self.form.add_error(self.form.blame(resource), str(refusal))

    def set_beside(self, refusal: str) -> None:
        """Show what was typed beside what somebody else saved meanwhile.

        The next save is meant for the version that is shown now.
        """
        if self.booking is None:
            return
        self.refusal = refusal
        self.booking.refresh_from_db()
        stands = SessionForm(booking=self.booking)
        self.beside = list(_differences(stands, self.form))
        posted = cast("MultiValueDict[str, str]", self.form.data).copy()
        posted["version"] = str(self.booking.version)
        self.form = self._form(posted)

    def _form(self, posted: Posted | None) -> SessionForm:
        asked = _initial_of(self.asked) if self.asked else {}
        if self.booking is not None:
            return SessionForm(posted, booking=self.booking, initial=asked)
        initial = {"people": [self.job.owner_id], "day": self.job.wished_on}
        return SessionForm(posted, initial=initial | asked)

    def _standing_echo(self) -> str:
        booking = self.booking
        if self.asked is not None:
            return self._asked_echo(self.asked)
        if booking is None:
            return echo_sentence(None, self.job.wished_on, None)
        wanted = list(booking.reservations.order_by("resource"))
        day = booking.local_start.date()
        return echo_sentence(booking.place, day, booking.span, wanted)

    def _asked_echo(self, asked: AskedSession) -> str:
        wished = Booking(
            pk=self.booking.pk if self.booking else None,
            place=asked.place,
            starts_at=asked.span.start,
            ends_at=asked.span.end,
            setting_up_minutes=asked.setting_up_minutes,
        )
        wanted = wanted_reservations(wished, asked.person_ids, asked.item_ids)
        return echo_sentence(asked.place, asked.day, asked.span, wanted)

    def _doubts(self) -> Iterator[str]:
        """Give what is asked or refused where the clocks change."""
        refusals = self.form.errors.as_data()
        for name in CLOCK_FIELDS:
            for refusal in refusals.get(name, []):
                if refusal.code in {DOUBLE_HOUR, MISSING_HOUR}:
                    yield str(refusal.message)


def _initial_of(asked: AskedSession) -> dict[str, Any]:
    """Return what the boxes show of a session that an address asks for.

    Where it names no people or no kit, those of the job's session stay.
    """
    start = asked.span.start.astimezone(asked.place.zone)
    end = asked.span.end.astimezone(asked.place.zone)
    initial: dict[str, Any] = {
        "place": asked.place.pk,
        "day": start.date(),
        "starts": start.time(),
        "which": which_of(start),
        "ends": end.time(),
        "which_end": which_of(end),
        "setting_up_minutes": asked.setting_up_minutes,
    }
    if asked.person_ids:
        initial["people"] = list(asked.person_ids)
    for item in KitItem.objects.filter(pk__in=asked.item_ids):
        initial.setdefault(field_of(item.category), []).append(item.pk)
    return initial


def _differences(stands: SessionForm, typed: SessionForm) -> Iterator[Beside]:
    for name, field in typed.fields.items():
        if name in {"version", "which", "which_end"}:
            continue
        kept = _words(field, stands.get_initial_for_field(field, name))
        asked = _words(field, typed.cleaned_data.get(name))
        if kept != asked:
            yield Beside(
                what=str(field.label or name).capitalize(), stands=kept, typed=asked
            )


def _words(field: forms.Field, value: Any) -> str:
    """Return an answer in words, to be read beside another."""
    if isinstance(field, forms.ChoiceField):
        chosen = {str(one) for one in (value if isinstance(value, list) else [value])}
        offered = cast("list[tuple[Any, str]]", field.choices)
        return ", ".join(name for key, name in offered if str(key) in chosen) or "–"
    if isinstance(value, time):
        return f"{value:%H:%M}"
    if isinstance(value, date):
        return day_date(value)
    if isinstance(value, tuple):
        return position_text(value)
    return str(value) if value not in (None, "") else "–"
