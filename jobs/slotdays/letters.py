"""What those who have a time of a slot day are written."""

from __future__ import annotations

from datetime import datetime
from typing import Final, Literal

from jobs.bookings.words import clock_words
from jobs.slotdays.models import Sitting
from studio.links.models import PrivateLink
from studio.mail.models import Message
from studio.mail.operations import Letter, write_message
from studio.profile.models import StudioProfile

News = Literal["taken", "moved", "off"]
SUBJECTS: Final[dict[News, str]] = {
    "taken": "Your time: {when}",
    "moved": "Your time is now {when}",
    "off": "Called off: {title}",
}


def tell_sitter(
    sitting: Sitting, link: PrivateLink, *, news: News, at: datetime
) -> int:
    """Write to whoever has a time, once for each of its states; return 0 or 1.

    Nothing goes where there is no address, or no public page to lead to.
    """
    studio, job = StudioProfile.load(), sitting.job
    if job is None or not job.client.email or not studio.public_address:
        return 0
    when = when_words(sitting)
    occasion = f"sitting {news}:{job.pk}:{sitting.starts_at:%Y%m%d%H%M}"
    if Message.objects.filter(occasion=occasion).exists():
        return 0
    body = {"taken": _taken, "moved": _moved, "off": _off}[news](sitting, when)
    write_message(
        occasion=occasion,
        about=job,
        letter=Letter(
            address=job.client.email,
            recipient_name=job.client.addressee,
            subject=SUBJECTS[news].format(when=when, title=sitting.slot_day.title),
            body=f"Hello {job.client.addressee},\n\n{body}\n\n{studio.trading_name}\n",
        ),
        link=link,
        at=at,
    )
    return 1


def when_words(sitting: Sitting) -> str:
    """Return the day and time of a sitting by the clock of its place."""
    return moment_words(sitting.local_start)


def moment_words(local: datetime) -> str:
    """Return a moment as Friday 4 December, 15:00."""
    return f"{local:%A} {local.day} {local:%B}, {clock_words(local)}"


def _taken(sitting: Sitting, when: str) -> str:
    place = sitting.slot_day.booking.place
    return (
        f"{sitting.slot_day.title}: your time is {when}, at {place.name}. Please come "
        "five minutes before.\n\nOn this page you see it again, and can choose another "
        "time or give it back:\n\n{link}"
    )


def _moved(sitting: Sitting, when: str) -> str:
    place = sitting.slot_day.booking.place
    return (
        f"{sitting.slot_day.title}: your time is now {when}, at {place.name}. If that "
        "does not suit you, choose another on this page, or ring us:\n\n{link}"
    )


def _off(sitting: Sitting, when: str) -> str:
    return (
        f"{sitting.slot_day.title} on {when} had to be called off. We are sorry, and "
        "will write to you about another date and anything that you have paid."
    )
