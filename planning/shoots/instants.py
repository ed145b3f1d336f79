"""From the clock of a session's place to the moment that is meant."""

from __future__ import annotations

from datetime import datetime, time, timedelta

from jobs.bookings.models import Booking


def instant_in(booking: Booking, clock: time) -> datetime:
    """Return the moment that a clock time means inside or nearest to a session.

    A session across midnight has two days; the time belongs to the one that puts it
    nearest to the session.
    """
    zone = booking.place.zone
    first = booking.local_start.date() - timedelta(days=1)
    days = [first + timedelta(days=n) for n in range(4)]
    moments = [datetime.combine(day, clock, tzinfo=zone) for day in days]
    middle = booking.starts_at + (booking.ends_at - booking.starts_at) / 2
    inside = [at for at in moments if booking.starts_at <= at <= booking.ends_at]
    return min(inside or moments, key=lambda at: abs(at - middle))
