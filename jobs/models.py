"""Where Django looks for this app's tables; each lives with its aggregate."""

from jobs.bookings.models import Attendee, Booking, Reservation
from jobs.clients.models import Client
from jobs.jobs.models import Job
from jobs.kits.models import Kit, KitItem
from jobs.places.models import Place

__all__ = [
    "Attendee",
    "Booking",
    "Client",
    "Job",
    "Kit",
    "KitItem",
    "Place",
    "Reservation",
]
