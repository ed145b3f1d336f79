"""Times of what a phone kept while it had no network, and sends later."""

from __future__ import annotations

from datetime import datetime, timedelta

from studio.errors import DomainError

LATEST_AHEAD = timedelta(minutes=2)
"""A phone's clock may be so much fast; common practice, no source."""
LONGEST_KEPT = timedelta(days=3)


class ImpossibleTimeError(DomainError):
    """The phone says a time at which this cannot have been made."""


def made_at(given: str, now: datetime) -> datetime:
    """Return when something was made, by the phone; now where it says nothing.

    Raises ImpossibleTimeError for what is no time, still to come, or long past.
    """
    if not given:
        return now
    try:
        made = datetime.fromisoformat(given)
    except ValueError:
        raise ImpossibleTimeError("The phone’s time could not be read.") from None
    if made.tzinfo is None:
        raise ImpossibleTimeError("The phone’s time says no time zone.")
    if made > now + LATEST_AHEAD:
        raise ImpossibleTimeError(
            f"The phone says {_words(made, now)}, which is still to come. "
            "Set the phone’s clock."
        )
    if made < now - LONGEST_KEPT:
        raise ImpossibleTimeError(
            f"The phone says {_words(made, now)}, more than {LONGEST_KEPT.days} days "
            "ago. Write it with its time of day instead."
        )
    return min(made, now)


def _words(made: datetime, now: datetime) -> str:
    local = made.astimezone(now.tzinfo)
    return f"{local.day} {local:%b %Y, %H:%M %Z}"
