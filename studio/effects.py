"""What moving or calling off a session touches, as every app knows it.

An app registers in its own panels what a change would touch, shown before it happens,
and what of its own follows a move; who asks never learns who answers.
"""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime, timedelta
from enum import IntEnum
from typing import Any, Final

from studio.people.models import Person


class Weight(IntEnum):
    """How much an effect weighs."""

    STOPS = 0
    WARNS = 1
    TELLS = 2


@dataclass(frozen=True, slots=True, kw_only=True)
class Effect:
    """One thing that a change touches, and where to see to it."""

    title: str
    words: str
    weight: Weight = Weight.WARNS
    url: str = ""
    verb: str = ""

    @property
    def is_stop(self) -> bool:
        """Whether the change will be refused for it."""
        return self.weight is Weight.STOPS


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """A session's new times, or none: then it is called off.

    `spare` is the spare date that it would go over to; what that holds is no clash.
    """

    booking: Any
    at: datetime
    starts_at: datetime | None = None
    ends_at: datetime | None = None
    spare: Any = None

    @property
    def is_off(self) -> bool:
        """Whether the session is called off."""
        return self.starts_at is None

    @property
    def shift(self) -> timedelta:
        """How much later it starts; nothing where it is called off."""
        if self.starts_at is None:
            return timedelta()
        shift: timedelta = self.starts_at - self.booking.starts_at
        return shift


Teller = Callable[[Change], list[Effect]]
Follower = Callable[[Any, timedelta, Person, datetime], None]
EndFollower = Callable[[Any, bool, Person, datetime], None]
Minder = Callable[[Any], None]
_tellers: Final[list[tuple[int, str, Teller]]] = []
_followers: Final[list[Follower]] = []
_end_followers: Final[list[EndFollower]] = []
_minders: Final[list[Minder]] = []


def touches(*, action: str, order: int = 50) -> Callable[[Teller], Teller]:
    """Register what a change touches, for people who may do `action`."""

    def register(teller: Teller) -> Teller:
        _tellers.append((order, action, teller))
        return teller

    return register


def follows_a_move(follower: Follower) -> Follower:
    """Register what follows a move, in its transaction: (booking, shift, by, at)."""
    _followers.append(follower)
    return follower


def follows_an_end(follower: EndFollower) -> EndFollower:
    """Register what follows a calling-off in its transaction: (booking, stands, ...).

    `stands` is True where the session is taken up again after all.
    """
    _end_followers.append(follower)
    return follower


def minds_new_times(minder: Minder) -> Minder:
    """Register who may refuse that a session's times change by the way, no move."""
    _minders.append(minder)
    return minder


def effects_of(change: Change, person: Person) -> list[Effect]:
    """Return what a change touches, as far as this person may see; stops come first."""
    ordered = sorted(_tellers, key=lambda entry: entry[0])
    found = [
        effect
        for _, action, tell in ordered
        if person.may(action)
        for effect in tell(change)
    ]
    return sorted(found, key=lambda effect: effect.weight)


def follow_move(booking: Any, shift: timedelta, *, by: Person, at: datetime) -> None:
    """Let every app's own follow a session that was moved."""
    for follow in _followers:
        follow(booking, shift, by, at)


def follow_end(booking: Any, *, stands: bool, by: Person, at: datetime) -> None:
    """Let every app's own follow a session that is called off, or stands again."""
    for follow in _end_followers:
        follow(booking, stands, by, at)


def mind_new_times(booking: Any) -> None:
    """Let every app refuse new times that are no move. Raises its DomainError."""
    for mind in _minders:
        mind(booking)
