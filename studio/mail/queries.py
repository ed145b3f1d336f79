"""Questions about the outbox, answered with plain values."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Final

from django.apps import apps
from django.core.paginator import Paginator
from django.urls import reverse

from studio.mail.letters import PLACE
from studio.mail.models import Message, MessageQuerySet
from studio.mail.states import MessageState

A_PAGE: Final = 50
SHOWS: Final = (
    ("all", "All"),
    ("trouble", "Needs a look"),
    ("waiting", "Waiting"),
    ("sent", "Sent"),
)
KINDS: Final = {
    MessageState.WAITING: "waiting",
    MessageState.CLAIMED: "waiting",
    MessageState.SENT: "done",
    MessageState.FAILED: "late",
    MessageState.UNKNOWN: "risky",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class MessageRow:
    """One message of the list."""

    pk: int
    url: str
    reader: str
    address: str
    subject: str
    written_at: datetime
    state: MessageState
    kind: str
    happened_at: datetime | None
    fault: str

    @property
    def state_words(self) -> str:
        """How far the message has come, in words."""
        if self.state == MessageState.WAITING and self.fault:
            return "Tries again"
        return str(self.state.label)

    @property
    def may_go_again(self) -> bool:
        """Whether the owner may let it go again."""
        return self.state in {MessageState.FAILED, MessageState.UNKNOWN}

    @property
    def may_have_arrived(self) -> bool:
        """Whether nobody knows if it was sent."""
        return self.state == MessageState.UNKNOWN


@dataclass(frozen=True, slots=True, kw_only=True)
class MessageList:
    """A page of the list, and where the pages before and after it are."""

    rows: tuple[MessageRow, ...]
    page: int
    pages: int
    count: int
    trouble: int


@dataclass(frozen=True, slots=True, kw_only=True)
class ShownMessage:
    """One message with its text, its papers and what it is about."""

    row: MessageRow
    text: str
    papers: tuple[str, ...]
    attempts: int
    about: str
    about_url: str


def list_messages(*, show: str, page: int) -> MessageList:
    """Return one page of the messages, newest first."""
    pages = Paginator(_shown(show), A_PAGE)
    found = pages.get_page(page)
    return MessageList(
        rows=tuple(_row(message) for message in found),
        page=found.number,
        pages=pages.num_pages,
        count=pages.count,
        trouble=Message.objects.in_trouble().count(),
    )


def show_message(message: Message) -> ShownMessage:
    """Return one message as its page shows it; the private link stays hidden."""
    about, about_url = _about(message)
    return ShownMessage(
        row=_row(message),
        text=message.body.replace(PLACE, "[private link]"),
        papers=tuple(message.files.order_by("pk").values_list("name", flat=True)),
        attempts=message.attempts,
        about=about,
        about_url=about_url,
    )


def _shown(show: str) -> MessageQuerySet:
    messages = Message.objects.all()
    if show == "trouble":
        return messages.in_trouble()
    if show == "waiting":
        return messages.filter(state__in=[MessageState.WAITING, MessageState.CLAIMED])
    if show == "sent":
        return messages.filter(state=MessageState.SENT)
    return messages


def _row(message: Message) -> MessageRow:
    state = MessageState(message.state)
    happened = {
        MessageState.SENT: message.sent_at,
        MessageState.WAITING: message.not_before if message.fault else None,
        MessageState.UNKNOWN: message.spoken_at,
        MessageState.FAILED: message.claimed_at,
    }
    return MessageRow(
        pk=message.pk,
        url=reverse("studio:message", args=[message.pk]),
        reader=message.recipient_name or message.address,
        address=message.address,
        subject=message.subject,
        written_at=message.written_at,
        state=state,
        kind=KINDS[state],
        happened_at=happened.get(state),
        fault=message.fault,
    )


def _about(message: Message) -> tuple[str, str]:
    try:
        model = apps.get_model(message.object_type)
    except LookupError:
        return "", ""
    row = model._default_manager.filter(pk=message.object_id).first()
    address = getattr(row, "get_absolute_url", None)
    return str(row or ""), address() if address else ""
