"""Call sheets for pages: versions, what is missing, and who gets what."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import datetime

from django.urls import reverse

from jobs.bookings.models import Booking
from jobs.bookings.states import BookingStatus
from planning.callsheets.models import CallSheet
from planning.callsheets.people import (
    Paper,
    Recipient,
    recipients_of,
    unreachable_of,
)
from planning.callsheets.printed import PrintedCallSheet
from planning.callsheets.sheet_content import printed_call_sheet
from planning.session_pages.printed import PrintedSession
from planning.session_pages.queries import printed_session
from planning.shoots.models import SetUp
from studio.mail.models import Message

__all__ = ["PrintedCallSheet", "PrintedSession", "printed_call_sheet"]
MOST_NAMES = 60


@dataclass(frozen=True, slots=True, kw_only=True)
class Gap:
    """Something that the papers will lack, and where it is put right."""

    words: str
    url: str
    verb: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """The last version of a booking's call sheet, and whether it still holds."""

    last: CallSheet | None
    is_current: bool

    @property
    def was_sent(self) -> bool:
        """Whether the version that holds has gone out."""
        return self.is_current and self.last is not None and bool(self.last.sent_at)


def last_call_sheet(booking: Booking) -> CallSheet | None:
    """Return a booking's last version, without the bytes of its papers."""
    return booking.call_sheets.select_related("made_by").order_by("-version").first()


def content_hash(sheet: PrintedCallSheet, page: PrintedSession) -> str:
    """Return the SHA-256 of what both papers say, whenever they are printed."""
    said = (
        replace(sheet, version=0, printed=""),
        replace(page, foot=""),
    )
    return hashlib.sha256(repr(said).encode()).hexdigest()


def standing_of(booking: Booking, at: datetime) -> Standing:
    """Return a booking's last version, held against what is planned now."""
    last = last_call_sheet(booking)
    if last is None:
        return Standing(last=None, is_current=False)
    sheet = printed_call_sheet(booking, version=last.version, at=at)
    now = content_hash(sheet, printed_session(booking, at=at))
    return Standing(last=last, is_current=now == last.content_hash)


def versions_of(booking: Booking) -> list[CallSheet]:
    """Return every version of a booking's call sheet, the newest first."""
    return list(booking.call_sheets.select_related("made_by").order_by("-version"))


def missing(booking: Booking) -> tuple[Gap, ...]:
    """Return what the papers of a booking lack, the weightiest first."""
    return (*_in_plan(booking), *_in_people(booking), *_at_place(booking))


@dataclass(frozen=True, slots=True, kw_only=True)
class Delivery:
    """Who gets which paper of a version, and how far the message is."""

    recipient: Recipient
    state: str


def deliveries_of(booking: Booking, sheet: CallSheet | None) -> tuple[Delivery, ...]:
    """Return who gets which paper, with the state of the version's messages."""
    states: dict[str, str] = {}
    if sheet is not None:
        messages = Message.objects.filter(occasion__startswith=sheet.occasion_stem)
        states = {one.occasion: one.get_state_display() for one in messages}
    return tuple(
        Delivery(
            recipient=one,
            state=states.get(sheet.occasion_for(one.address), "") if sheet else "",
        )
        for one in recipients_of(booking)
    )


def _in_plan(booking: Booking) -> Iterator[Gap]:
    job = booking.get_absolute_url()
    if booking.status == BookingStatus.CANCELLED:
        yield Gap(words="The session was cancelled.", url=job, verb="Open job")
    elif booking.status in {BookingStatus.PROPOSED, BookingStatus.PENCILLED}:
        words = "The session is not confirmed yet."
        yield Gap(words=words, url=job, verb="Open job")
    if not SetUp.objects.filter(plan__booking=booking).exists():
        url = reverse("planning:plan", args=[booking.pk])
        words = "No set-ups: the sheet has no times, settings or dials."
        yield Gap(words=words, url=url, verb="Plan the light")


def _in_people(booking: Booking) -> Iterator[Gap]:
    job = booking.get_absolute_url()
    for name in unreachable_of(booking):
        words = f"No phone for {_short(name)}."
        yield Gap(words=words, url=job, verb="Open job")
    papers = {one.paper for one in recipients_of(booking)}
    if Paper.SESSION not in papers:
        url = booking.job.client.get_absolute_url()
        words = f"No e-mail for {_short(booking.job.client.addressee)}."
        yield Gap(words=words, url=url, verb="Open client")
    if Paper.SHEET not in papers:
        words = "Nobody of the crew has an e-mail address."
        yield Gap(words=words, url=job, verb="Open job")


def _at_place(booking: Booking) -> Iterator[Gap]:
    place = booking.place
    url = place.get_absolute_url()
    told = (
        (place.address, "No address for the place."),
        (place.meeting_point, "No meeting point: people won’t know where to wait."),
        (place.parking, "Nothing on parking."),
        (place.access, "Nothing on access: gate, key, stairs."),
        (place.rain_plan or booking.weather_decision, "Nothing on rain."),
    )
    for value, words in told:
        if not value:
            yield Gap(words=words, url=url, verb="Open place")


def _short(name: str) -> str:
    return name if len(name) <= MOST_NAMES else f"{name[:MOST_NAMES].rstrip()}…"
