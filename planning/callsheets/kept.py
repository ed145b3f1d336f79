"""What a version keeps of its papers in plain values, to be read again years later."""

from __future__ import annotations

import json
from dataclasses import fields
from typing import Any

from jobs.bookings.models import Booking
from planning.callsheets.printed import PrintedCallSheet, PrintedSetUp
from planning.session_pages.printed import PrintedSession
from planning.shoots.charts.strip import clock_minute

SHEET = (
    "title",
    "day",
    "facts",
    "place",
    "access",
    "rain",
    "notes",
    "who",
    "cautions",
    "light",
    "light_table_title",
    "kit",
    "foot",
)
PAGE = (
    "for_whom",
    "day",
    "facts",
    "when",
    "place",
    "where",
    "steps_title",
    "light",
    "wear",
    "bring",
    "getting_there",
    "if_it_pours",
    "on_the_day",
)


def kept_content(
    booking: Booking, sheet: PrintedCallSheet, page: PrintedSession
) -> dict[str, Any]:
    """Return both papers' words, and what the day strip is drawn again from."""
    crew = {name: getattr(sheet, name) for name in SHEET}
    crew["people"] = [
        {"name": one.name, "role": one.role, "phone": one.phone} for one in sheet.people
    ]
    crew["set_ups"] = [_set_up(one) for one in sheet.set_ups]
    client = {name: getattr(page, name) for name in PAGE}
    client["steps"] = [(one.start, one.name, one.words) for one in page.steps]
    content = {"sheet": crew, "page": client, "strip": _strip(booking)}
    plain: dict[str, Any] = json.loads(json.dumps(content))
    return plain


def _set_up(one: PrintedSetUp) -> dict[str, Any]:
    names = [field.name for field in fields(one) if field.name != "dial"]
    return {name: getattr(one, name) for name in names}


def _strip(booking: Booking) -> dict[str, Any]:
    place, on = booking.place, booking.local_start.date()
    return {
        "latitude_deg": place.latitude_deg,
        "longitude_deg": place.longitude_deg,
        "time_zone": place.time_zone,
        "on": on.isoformat(),
        "first_minute": clock_minute(booking.starts_at, on, place.zone),
        "last_minute": clock_minute(booking.ends_at, on, place.zone),
    }
