"""What those who have a time of a slot day are written."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from typing import Final, Literal

from jobs.bookings.words import clock_words
from jobs.jobs.models import Job
from jobs.slotdays.models import Sitting
from studio.links.models import PrivateLink
from studio.mail.models import Message
from studio.mail.operations import Letter, write_message
from studio.profile.models import StudioProfile

News = Literal["taken", "moved", "off", "stands", "freed"]
SUBJECTS: Final[dict[News, str]] = {
    "taken": "Your time: {when}",
    "moved": "Your time is now {when}",
    "off": "Called off: {title}",
    "stands": "It stands after all: {when}",
    "freed": "No longer yours: {when}",
}


def tell_sitter(
    sitting: Sitting, link: PrivateLink | None, *, news: News, at: datetime
) -> int:
    """Write to whoever has a time, unless the last letter said it; return 0 or 1.

    Nothing goes where there is no address, or no public page that it would lead to.
    """
    studio, job = StudioProfile.load(), sitting.job
    if job is None or not job.client.email:
        return 0
    when = when_words(sitting)
    body = BODIES[news](sitting, when)
    occasion = _occasion(sitting, job, news)
    if not occasion or ("{link}" in body and not studio.public_address):
        return 0
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


def _occasion(sitting: Sitting, job: Job, news: News) -> str:
    """Name a letter; nothing where the last one about the time said the same.

    Somebody who changes there and back again is told each time.
    """
    told = Message.objects.about(job).filter(occasion__startswith="sitting ")
    state = news if news in {"off", "freed"} else "yours"
    said = f"sitting {state}:{job.pk}:{sitting.starts_at:%Y%m%d%H%M}:"
    last = told.order_by("-pk").first()
    if last and last.occasion.startswith(said):
        return ""
    return f"{said}{told.count() + 1}"


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


def _stands(sitting: Sitting, when: str) -> str:
    return (
        f"{sitting.slot_day.title} had been called off. It takes place after all, and "
        f"your time stands: {when}. Your own page:\n\n{{link}}"
    )


def _freed(sitting: Sitting, when: str) -> str:
    return (
        f"{sitting.slot_day.title}: your time on {when} is free again, and nobody "
        "expects you then. If that is a mistake, please ring us."
    )


BODIES: Final[dict[News, Callable[[Sitting, str], str]]] = {
    "taken": _taken,
    "moved": _moved,
    "off": _off,
    "stands": _stands,
    "freed": _freed,
}
