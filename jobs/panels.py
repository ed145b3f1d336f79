"""What this app shows on Today; importing registers it."""

from jobs.bookings import panels as bookings
from jobs.bookings import touched
from jobs.calendars import panels as calendars
from jobs.calendars import touched as invitations
from jobs.hours import panels as hours
from jobs.jobs import panels as jobs
from jobs.kits import panels as kits
from jobs.letters import panels as letters
from jobs.releases import panels as releases
from jobs.returns import panels as returns
from jobs.slotdays import panels as slotdays
from jobs.slotdays import touched as sittings

__all__ = [
    "bookings",
    "calendars",
    "hours",
    "invitations",
    "jobs",
    "kits",
    "letters",
    "releases",
    "returns",
    "sittings",
    "slotdays",
    "touched",
]
