"""What a page of the diary must know of a session, so that it can be dragged.

Times here are readings of a clock without a zone: the page adds minutes and days to
them and sends a reading back. Instants are worked out by the server alone.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Final
from zoneinfo import ZoneInfo

from django.urls import reverse

from jobs.away.models import BlockedTime
from jobs.bookings.models import Booking
from jobs.bookings.states import SETTLED

LONGEST_DRAGGED: Final = timedelta(hours=23)
"""From here on a day and two clock times no longer say how long a session is."""

EVERYTHING: Final = "*"
"""What closed time of the whole studio keeps."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Handle:
    """By what a session is moved: its own page for that, and when it is now.

    `day` and `starts` are by the clock of its place, which `clock` names where it is
    another than the studio's; `at` is by that of the studio.
    """

    url: str
    day: str
    starts: str
    at: str
    minutes: int
    clock: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Keeps:
    """What is kept from when to when by the studio's clock, and by what."""

    about: str
    needs: str
    start: str
    end: str


def handle_of(booking: Booking, home: ZoneInfo) -> Handle | None:
    """Return by what a session is moved, None where it stays as it is."""
    if booking.status in SETTLED or booking.span.duration >= LONGEST_DRAGGED:
        return None
    start = booking.local_start
    elsewhere = start.utcoffset() != start.astimezone(home).utcoffset()
    return Handle(
        url=reverse("jobs:move", args=[booking.pk]),
        day=f"{start:%Y-%m-%d}",
        starts=f"{start:%H:%M}",
        at=_reading(booking.starts_at, home),
        minutes=round(booking.span.duration.total_seconds() / 60),
        clock=f"{booking.place.clock_name} time" if elsewhere else "",
    )


def kept_by(booking: Booking, home: ZoneInfo) -> Keeps:
    """Return what a session keeps, with setting up and packing; no query.

    Its reservations must be prefetched as `wanted`.
    """
    rows = booking.__dict__["wanted"]
    return Keeps(
        about=f"session:{booking.pk}",
        needs=" ".join(row.resource for row in rows),
        start=_reading(booking.on_site_at, home),
        end=_reading(booking.free_at, home),
    )


def blocked_by(row: BlockedTime, home: ZoneInfo) -> Keeps:
    """Return what blocked time keeps."""
    return Keeps(
        about=f"blocked:{row.pk}",
        needs=f"person:{row.person_id}" if row.person_id else EVERYTHING,
        start=_reading(row.starts_at, home),
        end=_reading(row.ends_at, home),
    )


def _reading(moment: datetime, zone: ZoneInfo) -> str:
    return f"{moment.astimezone(zone):%Y-%m-%dT%H:%M}"
