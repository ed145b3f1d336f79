"""The life of a quote's version: its states and the moves between them."""

from typing import Final

from django.db import models

from studio.errors import DomainError


class QuoteState(models.TextChoices):
    """How far a version of a quote has come."""

    DRAFT = "DRAFT", "Draft"
    SENT = "SENT", "Sent"
    ACCEPTED = "ACCEPTED", "Accepted"
    REPLACED = "REPLACED", "Replaced"
    LAPSED = "LAPSED", "Lapsed"
    DECLINED = "DECLINED", "Declined"


MOVES: Final = {
    QuoteState.DRAFT: {QuoteState.SENT, QuoteState.REPLACED},
    QuoteState.SENT: {
        QuoteState.ACCEPTED,
        QuoteState.REPLACED,
        QuoteState.LAPSED,
        QuoteState.DECLINED,
    },
    QuoteState.ACCEPTED: set[QuoteState](),
    QuoteState.REPLACED: set[QuoteState](),
    QuoteState.LAPSED: {QuoteState.ACCEPTED, QuoteState.REPLACED},
    QuoteState.DECLINED: {QuoteState.REPLACED},
}


class QuoteMoveError(DomainError):
    """A quote was asked to go to a state that it cannot reach from its own."""


def move(current: str, to: QuoteState) -> QuoteState:
    """Return the new state, or raise QuoteMoveError."""
    state = QuoteState(current)
    if to not in MOVES[state]:
        raise QuoteMoveError(
            f"A quote that is {state.label.lower()} cannot become {to.label.lower()}."
        )
    return to
