"""The life of a message on its way out."""

from typing import Final

from django.db import models

from studio.errors import DomainError


class MessageState(models.TextChoices):
    """How far a message has come."""

    WAITING = "WAITING", "Waiting"
    CLAIMED = "CLAIMED", "Being sent"
    SENT = "SENT", "Sent"
    FAILED = "FAILED", "Refused"
    UNKNOWN = "UNKNOWN", "May have been sent"


MOVES: Final = {
    MessageState.WAITING: {MessageState.CLAIMED},
    MessageState.CLAIMED: {
        MessageState.WAITING,
        MessageState.SENT,
        MessageState.FAILED,
        MessageState.UNKNOWN,
    },
    MessageState.SENT: set[MessageState](),
    MessageState.FAILED: {MessageState.WAITING},
    MessageState.UNKNOWN: {MessageState.WAITING, MessageState.SENT},
}


class MessageMoveError(DomainError):
    """A message was asked to go to a state that it cannot reach from its own."""


def move(current: str, to: MessageState) -> MessageState:
    """Return the new state, or raise MessageMoveError."""
    state = MessageState(current)
    if to not in MOVES[state]:
        raise MessageMoveError(
            f"A message that is {state.label.lower()} cannot become {to.label.lower()}."
        )
    return to
