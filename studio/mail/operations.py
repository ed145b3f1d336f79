"""Writing messages into the outbox."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from django.conf import settings
from django.db import models

from studio.files.models import StoredFile
from studio.links.models import PrivateLink
from studio.mail.models import Message
from studio.mail.states import MessageState, move


@dataclass(frozen=True, slots=True, kw_only=True)
class Letter:
    """What a message says, and to whom.

    Where `body` holds `{link}`, the private link's address is put in at sending.
    """

    address: str
    recipient_name: str
    subject: str
    body: str


def write_message(
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


def send_again(*, message_id: int, at: datetime) -> Message:
    """Let a refused or doubtful message go again, because the owner says so."""
    message = Message.objects.select_for_update().get(pk=message_id)
    message.state = move(message.state, MessageState.WAITING)
    message.not_before = at
    message.fault = ""
    message.save(update_fields=["state", "not_before", "fault"])
    return message


def occasion_slug(occasion: str) -> str:
    """Return an occasion as letters, digits and dashes."""
    kept = [sign if sign.isalnum() and sign.isascii() else "-" for sign in occasion]
    return "".join(kept)[:60]


def mail_host() -> str:
    """Return the domain that the studio's Message-IDs end in."""
    return settings.DEFAULT_FROM_EMAIL.rpartition("@")[2].strip("> ") or "localhost"
