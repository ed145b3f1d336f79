"""What this app shows on Today; importing registers it."""

from jobs.bookings import panels as bookings
from jobs.bookings import touched
from jobs.calendars import panels as calendars
from jobs.calendars import touched as invitations
from jobs.hours import panels as hours
from jobs.jobs import panels as jobs
from jobs.letters import panels as letters
from jobs.releases import panels as releases

__all__ = [
    "bookings",
    "calendars",
    "hours",
    "invitations",
    "jobs",
    "letters",
    "releases",
    "touched",
]
