"""A session as a calendar file, for a client to keep."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from jobs.bookings.models import Booking
from jobs.calendars.events import EventRow, Firmness, Method, write_calendar
from jobs.calendars.telling import told_to_guest
from studio.profile.models import StudioProfile


def session_file(booking: Booking, *, at: datetime) -> bytes:
    """Return a session as an event, under the name that invitations to it carry."""
    told = told_to_guest(booking, StudioProfile.load())
    if told.firmness == Firmness.CANCELLED:  # offered, and not held yet
        told = replace(told, firmness=Firmness.TENTATIVE)
    event = EventRow(uid=str(booking.uid), told=told, sequence=0, changed_at=at)
    return write_calendar([event], method=Method.PUBLISH)
