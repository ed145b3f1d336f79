"""Where Django looks for the foundation's tables; each lives with its package."""

from studio.files.models import StoredFile
from studio.finding.models import FindableWords
from studio.history.models import ChainHead, JournalEntry
from studio.imports.models import SentList
from studio.links.models import PrivateLink
from studio.mail.models import Message
from studio.people.models import Person
from studio.profile.models import StudioProfile
from studio.series.models import SeriesCounter

__all__ = [
    "ChainHead",
    "FindableWords",
    "JournalEntry",
    "Message",
    "Person",
    "PrivateLink",
    "SentList",
    "SeriesCounter",
    "StoredFile",
    "StudioProfile",
]
