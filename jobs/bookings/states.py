"""How firm a booking is: its states and the moves between them."""

from typing import Final

from django.db import models

from studio.errors import DomainError


class BookingStatus(models.TextChoices):
    """How firm a booking is. A proposed one holds nothing yet."""

    PROPOSED = "PROPOSED", "Proposed"
    PENCILLED = "PENCILLED", "Pencilled"
    CONFIRMED = "CONFIRMED", "Confirmed"
    COMPLETED = "COMPLETED", "Completed"
    CANCELLED = "CANCELLED", "Cancelled"


MOVES: Final = {
    BookingStatus.PROPOSED: {
        BookingStatus.PENCILLED,
        BookingStatus.CONFIRMED,
        BookingStatus.CANCELLED,
    },
    BookingStatus.PENCILLED: {
        BookingStatus.PROPOSED,
        BookingStatus.CONFIRMED,
        BookingStatus.CANCELLED,
    },
    BookingStatus.CONFIRMED: {BookingStatus.COMPLETED, BookingStatus.CANCELLED},
    BookingStatus.COMPLETED: set[BookingStatus](),
    BookingStatus.CANCELLED: set[BookingStatus](),
}

HOLDING: Final = (
    BookingStatus.PENCILLED,
    BookingStatus.CONFIRMED,
    BookingStatus.COMPLETED,
)
"""The states in which people, rooms and kit are kept for the booking."""


SETTLED: Final = (BookingStatus.COMPLETED, BookingStatus.CANCELLED)
"""The states that nothing leads out of."""


class BookingMoveError(DomainError):
    """A booking was asked to go to a state that it cannot reach from its own."""


def move(current: str, to: BookingStatus) -> BookingStatus:
    """Return the new state, or raise BookingMoveError."""
    status = BookingStatus(current)
    if to not in MOVES[status]:
        raise BookingMoveError(
            f"A {status.label.lower()} booking cannot become {to.label.lower()}."
        )
    return to
