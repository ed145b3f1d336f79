"""What a session says in somebody's calendar."""

from __future__ import annotations

from jobs.bookings.models import Booking
from jobs.bookings.states import HOLDING, BookingStatus
from jobs.calendars.events import Firmness, Told
from jobs.calendars.models import CalendarFeed, Detail
from studio.profile.models import StudioProfile
from studio.wording import phone_words


def told_to_crew(booking: Booking, feed: CalendarFeed) -> Told:
    """Return what a feed says: busy from the setting-up on.

    Without more detail only times and a first name: a feed often lies with a company
    that keeps calendars for others.
    """
    first = booking.job.client.addressee.split()
    name = first[0] if first else "a client"
    words = f"Session {_clocks(booking)}."
    if feed.detail == Detail.TIMES:
        title, place = f"Session with {name}", ""
    else:
        title, place = booking.job.title, _place(booking)
        words += f" {booking.job.number}."
    return Told(
        starts_at=booking.on_site_at,
        ends_at=booking.ends_at,
        title=f"{title} (pencilled)" if _is_pencilled(booking) else title,
        firmness=firmness_of(booking),
        place=place,
        words=words,
        alarm_minutes=feed.alarm_minutes,
    )


def told_to_guest(booking: Booking, studio: StudioProfile) -> Told:
    """Return what an invitation says to a client, sitter or helper."""
    contact = " or ".join(filter(None, [phone_words(studio.phone), studio.email]))
    words = [f"{_clocks(booking)}."]
    if booking.weather_decision:
        words.append(f"Weather: {booking.weather_decision}.")
    if contact:
        words.append(f"Questions: {contact}.")
    return Told(
        starts_at=booking.starts_at,
        ends_at=booking.ends_at,
        title=f"{booking.job.title}, {studio.trading_name}".strip(", "),
        firmness=firmness_of(booking),
        place=_place(booking),
        words=" ".join(words),
    )


def firmness_of(booking: Booking) -> Firmness:
    """Return how firm a session is in the words of iCalendar."""
    if booking.status not in HOLDING:
        return Firmness.CANCELLED
    return Firmness.TENTATIVE if _is_pencilled(booking) else Firmness.CONFIRMED


def _is_pencilled(booking: Booking) -> bool:
    return booking.status == BookingStatus.PENCILLED


def _clocks(booking: Booking) -> str:
    start, end = booking.local_start, booking.local_end
    return f"{start:%H:%M} to {end:%H:%M}, {booking.place.clock_name} time"


def _place(booking: Booking) -> str:
    lines = [booking.place.name, *booking.place.address.splitlines()]
    return ", ".join(line.strip(" ,") for line in lines if line.strip())


def may_invite(booking: Booking) -> bool:
    """Say whether a session is held, so that people can be invited to it."""
    return firmness_of(booking) != Firmness.CANCELLED
