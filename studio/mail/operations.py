"""Writing messages into the outbox."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from django.conf import settings
from django.db import models, transaction

from studio.files.models import StoredFile
from studio.history.operations import record
from studio.links.models import PrivateLink
from studio.mail.models import Message
from studio.mail.states import MessageState, move
from studio.people.models import Person


@dataclass(frozen=True, slots=True, kw_only=True)
class Letter:
    """What a message says, and to whom.

    Where `body` holds `{link}`, the private link's address is put in at sending.
    """

    address: str
    recipient_name: str
    subject: str
    body: str


def write_message(  # noqa: PLR0913 - named parts of one letter
    *,
    occasion: str,
    about: models.Model,
    letter: Letter,
    at: datetime,
    link: PrivateLink | None = None,
    files: Iterable[StoredFile] = (),
    documents_wanted: int = 0,
) -> Message:
    """Put a message into the outbox, inside the caller's transaction.

    `occasion` names what it is sent for; a second message for the same occasion is
    not written, the first is returned. `documents_wanted` says how many papers are
    still to be made before it may go; `attach_document` counts them down.
    """
    message, made = Message.objects.get_or_create(
        occasion=occasion,
        defaults={
            "address": letter.address,
            "recipient_name": letter.recipient_name[:160],
            "subject": " ".join(letter.subject.split())[:200],
            "body": letter.body,
            "link": link,
            "documents_wanted": documents_wanted,
            "object_type": about._meta.label_lower,
            "object_id": about.pk,
            "written_at": at,
            "not_before": at,
        },
    )
    if made:
        message.message_id = f"<{message.pk}.{occasion_slug(occasion)}@{mail_host()}>"
        message.save(update_fields=["message_id"])
        message.files.set(files)
    return message


def attach_document(message: Message, file: StoredFile) -> None:
    """Give a waiting message a paper that it waited for."""
    message.files.add(file)
    waiting = Message.objects.filter(pk=message.pk, documents_wanted__gt=0)
    waiting.update(documents_wanted=models.F("documents_wanted") - 1)


@transaction.atomic
def send_again(*, message_id: int, by: Person | None = None, at: datetime) -> Message:
    """Let a refused or doubtful message go again, because the owner says so.

    Raises MessageMoveError.
    """
    message = Message.objects.select_for_update(of=("self",)).get(pk=message_id)
    message.state = move(message.state, MessageState.WAITING)
    message.not_before = at
    message.attempts = 0
    message.fault = ""
    message.save(update_fields=["state", "not_before", "attempts", "fault"])
    record(message, "sent again", by=by, at=at)
    return message


@transaction.atomic
def note_arrival(*, message_id: int, by: Person | None, at: datetime) -> Message:
    """Settle a doubtful message: its reader has it. Raises MessageMoveError."""
    message = Message.objects.select_for_update(of=("self",)).get(pk=message_id)
    message.state = move(message.state, MessageState.SENT)
    message.sent_at = message.spoken_at or at
    message.fault = ""
    message.save(update_fields=["state", "sent_at", "fault"])
    record(message, "arrived", by=by, at=at)
    return message


def occasion_slug(occasion: str) -> str:
    """Return an occasion as letters, digits and dashes."""
    kept = [sign if sign.isalnum() and sign.isascii() else "-" for sign in occasion]
    return "".join(kept)[:60]


def mail_host() -> str:
    """Return the domain that the studio's Message-IDs end in."""
    return settings.DEFAULT_FROM_EMAIL.rpartition("@")[2].strip("> ") or "localhost"
