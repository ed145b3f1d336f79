"""A session as an iCalendar file (RFC 5545)."""

from __future__ import annotations

from datetime import UTC, datetime

from jobs.bookings.models import Booking
from studio.profile.models import StudioProfile


def session_file(booking: Booking, *, at: datetime) -> bytes:
    """Return a session as an event, its times in UTC, lines folded at 75 octets."""
    profile, place = StudioProfile.load(), booking.place
    lines = [
        "BEGIN:VCALENDAR",
        "VERSION:2.0",
        "PRODID:-//Northsill//Session//EN",
        "BEGIN:VEVENT",
        f"UID:session-{booking.pk}@northsill",
        f"DTSTAMP:{_stamp(at)}",
        f"DTSTART:{_stamp(booking.starts_at)}",
        f"DTEND:{_stamp(booking.ends_at)}",
        f"SUMMARY:{_text(f'{booking.job.title}, {profile.trading_name}')}",
        f"LOCATION:{_text(f'{place.name}, {place.address}')}",
        f"DESCRIPTION:{_text(f'Questions: {profile.phone}')}",
        "END:VEVENT",
        "END:VCALENDAR",
    ]
    return b"\r\n".join(_folded(line) for line in lines) + b"\r\n"


def _stamp(at: datetime) -> str:
    return f"{at.astimezone(UTC):%Y%m%dT%H%M%SZ}"


def _text(words: str) -> str:
    for sign in ("\\", ";", ","):
        words = words.replace(sign, f"\\{sign}")
    return words.replace("\r\n", "\\n").replace("\n", "\\n")


def _folded(line: str) -> bytes:
    parts, part = [], b""
    for sign in line:
        octets = sign.encode()
        if len(part) + len(octets) > 73:
            parts.append(part)
            part = b""
        part += octets
    return b"\r\n ".join([*parts, part])
