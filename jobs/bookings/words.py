"""A session's day and times in words, by the clock of its place."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, tzinfo

from jobs.bookings.models import Booking
from studio.wording import day_date


@dataclass(frozen=True, slots=True, kw_only=True)
class SessionWords:
    """When a session is, as pages say it."""

    day: str
    clocks: str
    note: str


def session_words(booking: Booking, *, at: datetime, home: tzinfo) -> SessionWords:
    """Return when a session is, how far off, and whose clock where it is not ours."""
    start = booking.local_start
    notes = [days_off(start.date(), at.astimezone(booking.place.zone).date())]
    if booking.setting_up_minutes:
        on_site = booking.on_site_at.astimezone(booking.place.zone)
        notes.append(f"set-up from {clock_words(on_site)}")
    if start.utcoffset() != start.astimezone(home).utcoffset():
        notes.append(f"by {booking.place.clock_name} time")
    return SessionWords(
        day=day_date(start),
        clocks=clocks_of(booking),
        note="; ".join(notes),
    )


def clocks_of(booking: Booking) -> str:
    """Return the times of a session; an end on another day names that day."""
    start, end = booking.local_start, booking.local_end
    until = clock_words(end)
    if end.date() != start.date():
        until += f" on {end:%a}" if (end.date() - start.date()).days < 7 else " later"
    return f"{clock_words(start)}–{until}"


def clock_words(local: datetime) -> str:
    """Return a clock time; one that comes twice that day says which it is."""
    twice = local.utcoffset() != local.replace(fold=1 - local.fold).utcoffset()
    return f"{local:%H:%M %Z}" if twice else f"{local:%H:%M}"


def days_off(day: date, today: date) -> str:
    """Return how far a day is from today: tomorrow, in 5 days, 12 days ago."""
    days = (day - today).days
    near = {-1: "yesterday", 0: "today", 1: "tomorrow"}
    if days in near:
        return near[days]
    return f"in {days} days" if days > 0 else f"{-days} days ago"
