"""Where Django looks for this app's tables; each lives with its aggregate."""

from jobs.bookings.models import Attendee, Booking, Reservation
from jobs.calendars.models import (
    BusyCalendar,
    BusyTime,
    CalendarFeed,
    FeedEntry,
    Invitation,
)
from jobs.clients.models import Client, ClientMerge
from jobs.jobs.models import Job
from jobs.kits.models import Kit, KitItem
from jobs.places.models import Place

__all__ = [
    "Attendee",
    "Booking",
    "BusyCalendar",
    "BusyTime",
    "CalendarFeed",
    "Client",
    "ClientMerge",
    "FeedEntry",
    "Invitation",
    "Job",
    "Kit",
    "KitItem",
    "Place",
    "Reservation",
]
