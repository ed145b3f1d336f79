"""Sending what waits: claim, speak, note.

A message goes to the mail server at most once for each claim. What cannot be known
after a fault is called unknown and waits for the owner: it is never sent again by
itself.
"""

from __future__ import annotations

import smtplib
from dataclasses import dataclass
from datetime import datetime, timedelta
from types import TracebackType
from typing import Final, Self

from django.core.mail import EmailMessage, get_connection
from django.db import transaction

from studio.faults import faultpoint
from studio.history.operations import record
from studio.mail.letters import LetterError, write_out
from studio.mail.models import Message, MessageQuerySet
from studio.mail.states import MessageState, move
from studio.profile.models import StudioProfile

WAITS: Final = tuple(timedelta(minutes=minutes) for minutes in (1, 5, 15, 60, 240))
MOST_ATTEMPTS: Final = 24
REFUSED: Final = 500


@dataclass(frozen=True, slots=True)
class Outcome:
    """What became of one attempt, and why."""

    state: MessageState
    fault: str = ""


class PostOffice:
    """One connection for a sweep, opened when the first message needs it."""

    def __init__(self) -> None:
        self._connection = get_connection()
        self.is_down = False

    def __enter__(self) -> Self:
        """Return the office itself; nothing is opened yet."""
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        fault: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        """Hang up."""
        self.hang_up()

    @property
    def told(self) -> bool:
        """Whether the server may have the text of the message in hand."""
        return bool(getattr(self._connection, "told", False))

    def open(self) -> None:
        """Reach the server, unless it is reached already. Raises OSError."""
        try:
            self._connection.open()
        except OSError:
            self.is_down = True
            self.hang_up()
            raise
        if hasattr(self._connection, "begin"):
            self._connection.begin()

    def hand_over(self, email: EmailMessage) -> None:
        """Give the server one e-mail. Raises what the server or the line raises."""
        self._connection.send_messages([email])

    def hang_up(self) -> None:
        """Leave the server, politely or not."""
        hang_up = getattr(self._connection, "drop", self._connection.close)
        hang_up()


def deliver(*, message_id: int, office: PostOffice, at: datetime) -> Outcome | None:
    """Send one waiting message, if nobody else has claimed it; None if so."""
    if not Message.objects.claim(message_id, at=at):
        return None
    faultpoint("message_claimed")
    message = Message.objects.select_related("link").get(pk=message_id)
    outcome = _attempt(message, office=office, at=at)
    return _note(message, outcome, at=at) if outcome else None


def release_lapsed(*, at: datetime) -> int:
    """Free what a dead process had claimed; return how many messages.

    One that was not put to a server waits again. One that may have been is unknown.
    """
    lapsed = list(Message.objects.lapsed(at=at))
    zone = StudioProfile.load().zone if lapsed else None
    for message in lapsed:
        if message.spoken_at is None:
            outcome = Outcome(MessageState.WAITING)
        else:
            said = message.spoken_at.astimezone(zone)
            outcome = Outcome(
                MessageState.UNKNOWN, f"May have been sent at {said:%H:%M}."
            )
        _note(message, outcome, at=at)
    return len(lapsed)


def _attempt(message: Message, *, office: PostOffice, at: datetime) -> Outcome | None:
    """Write out and hand over; None if the claim lapsed meanwhile (a long sleep)."""
    try:
        email = write_out(message)
    except LetterError as reason:
        return Outcome(MessageState.FAILED, str(reason))
    try:
        office.open()
    except OSError as fault:
        return Outcome(MessageState.WAITING, f"No mail server: {_words(fault)}")
    if not _standing(message).update(spoken_at=at):
        return None
    try:
        office.hand_over(email)
    except (OSError, ValueError) as fault:
        outcome = judge(fault, told=office.told)
        office.hang_up()
        return outcome
    faultpoint("smtp_accepted")
    return Outcome(MessageState.SENT)


def judge(fault: Exception, *, told: bool) -> Outcome:
    """Return what a fault says of a message; `told`: its text was under way.

    A reply of 4xx is a refusal for now, 5xx one for good (RFC 5321, 4.2.1).
    """
    code = _code(fault)
    if code >= REFUSED or isinstance(fault, smtplib.SMTPNotSupportedError | ValueError):
        return Outcome(MessageState.FAILED, _words(fault))
    if told and code <= 0:
        return Outcome(
            MessageState.UNKNOWN,
            f"The line broke while the message was sent: {_words(fault)}",
        )
    return Outcome(MessageState.WAITING, _words(fault))


def _note(message: Message, outcome: Outcome, *, at: datetime) -> Outcome:
    """Write an outcome down, if the claim still stands."""
    if outcome.state == MessageState.WAITING and message.attempts >= MOST_ATTEMPTS:
        outcome = Outcome(MessageState.FAILED, outcome.fault)
    wait = WAITS[min(message.attempts, len(WAITS)) - 1]
    fields: dict[str, object] = {
        "state": move(message.state, outcome.state),
        "fault": outcome.fault[:300],
    }
    if outcome.state == MessageState.WAITING:
        fields["not_before"] = at + wait if outcome.fault else at
    if outcome.state == MessageState.SENT:
        fields["sent_at"] = at
    with transaction.atomic():
        noted = _standing(message).update(**fields)
        if noted and outcome.state != MessageState.WAITING:
            record(message, str(outcome.state.label).lower(), by=None, at=at)
    return outcome


def _standing(message: Message) -> MessageQuerySet:
    """Return the message's row, as long as the claim is ours."""
    return Message.objects.filter(
        pk=message.pk, state=MessageState.CLAIMED, claimed_at=message.claimed_at
    )


def _code(fault: Exception) -> int:
    if isinstance(fault, smtplib.SMTPRecipientsRefused):
        return max(code for code, _ in fault.recipients.values())
    if isinstance(fault, smtplib.SMTPResponseException):
        return int(fault.smtp_code)
    return 0


def _words(fault: Exception) -> str:
    said: bytes | str = str(fault) or type(fault).__name__
    if isinstance(fault, smtplib.SMTPRecipientsRefused):
        _, said = next(iter(fault.recipients.values()))
    elif isinstance(fault, smtplib.SMTPResponseException):
        said = fault.smtp_error
    text = said.decode("utf-8", "replace") if isinstance(said, bytes) else said
    code = _code(fault)
    return " ".join(f"{code} {text}".split() if code > 0 else text.split())
