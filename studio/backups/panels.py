"""What copies put on Today: that there is none, or none for days."""

from datetime import datetime, timedelta
from typing import Final

from django.urls import reverse

from studio.backups.folder import folder_of
from studio.panels import TodayItem, on_today
from studio.people.models import Person
from studio.profile.models import StudioProfile
from studio.wording import day_plain

TOO_OLD: Final = timedelta(days=3)
FIRST: Final = timedelta(days=2)


@on_today(action="studio.back_up")
def copies_missing(person: Person, at: datetime) -> list[TodayItem]:
    """Return a reminder where the studio's work has no copy of the last days."""
    profile = StudioProfile.load()
    if profile.is_demo or profile.set_up_at is None or at - profile.set_up_at < FIRST:
        return []
    last = profile.backed_up_at
    if last and at - last < TOO_OLD:
        return []
    said = f"The last one is of {day_plain(last)}." if last else "There is none yet."
    if folder_of(profile) is None:
        said += " Nightly copies have no folder."
    return [
        TodayItem(
            group="late",
            title="Make a copy of the studio’s data",
            reason=said,
            url=reverse("studio:backup"),
            verb="Back up",
            icon="download",
        )
    ]
