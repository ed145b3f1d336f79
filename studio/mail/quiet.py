"""The demo's outbox: its letters count as sent, and reach no mail server."""

from __future__ import annotations

from datetime import datetime

from django.core.mail import EmailMessage

from studio.mail.delivery import PostOffice, deliver
from studio.mail.models import Message
from studio.mail.states import MessageState


class QuietOffice(PostOffice):
    """An office without a line to anybody: what it is handed goes nowhere."""

    def open(self) -> None:
        """Reach nobody."""

    def hand_over(self, email: EmailMessage) -> None:
        """Let the letter drop."""


def carry_quietly(*, at: datetime) -> int:
    """Note every letter that is ready as sent; return how many."""
    waiting = Message.objects.filter(state=MessageState.WAITING, documents_wanted=0)
    ready = list(waiting.order_by("pk").values_list("pk", flat=True))
    with QuietOffice() as office:
        for message_id in ready:
            deliver(message_id=message_id, office=office, at=at)
    return len(ready)
