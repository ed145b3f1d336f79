"""Where Django looks for this app's tables; each lives with its aggregate."""

from jobs.attending.models import GroupShot, Need, SessionAnswers
from jobs.away.models import BlockedTime
from jobs.bookings.changes import SessionChange
from jobs.bookings.models import Attendee, Booking, Reservation
from jobs.calendars.models import (
    BusyCalendar,
    BusyTime,
    CalendarFeed,
    FeedEntry,
    Invitation,
)
from jobs.clients.models import Client, ClientMerge, Contact
from jobs.hours.models import WorkedTime
from jobs.jobs.models import Job
from jobs.kits.models import Kit, KitAlternative, KitItem
from jobs.letters.models import LetterWording, SentLetter
from jobs.places.models import Place
from jobs.releases.models import AllowedUse, PictureUse, Release, Sitter
from jobs.returns.models import KitReturn
from jobs.slotdays.models import Sitting, SlotDay
from jobs.ways.models import KnownWay

__all__ = [
    "AllowedUse",
    "Attendee",
    "BlockedTime",
    "Booking",
    "BusyCalendar",
    "BusyTime",
    "CalendarFeed",
    "Client",
    "ClientMerge",
    "Contact",
    "FeedEntry",
    "GroupShot",
    "Invitation",
    "Job",
    "Kit",
    "KitAlternative",
    "KitItem",
    "KitReturn",
    "KnownWay",
    "LetterWording",
    "Need",
    "PictureUse",
    "Place",
    "Release",
    "Reservation",
    "SentLetter",
    "SessionAnswers",
    "SessionChange",
    "Sitter",
    "Sitting",
    "SlotDay",
    "WorkedTime",
]
