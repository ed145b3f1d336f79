"""The days and sessions of the diary, as its pages show them."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime

from jobs.bookings.states import BookingStatus
from jobs.diary.dragging import Handle, Keeps
from studio.scene.drawing import Drawing


@dataclass(frozen=True, slots=True, kw_only=True)
class DiarySession:
    """A session as a day of the diary shows it."""

    url: str
    title: str
    client: str
    clocks: str
    starts_at: str
    place: str
    status: str
    status_words: str
    keeps: Keeps
    handle: Handle | None = None
    people: str = ""
    held_until: datetime | None = None
    taken: str = ""

    @property
    def is_firm(self) -> bool:
        """Whether it is confirmed or has happened."""
        return self.status in {BookingStatus.CONFIRMED, BookingStatus.COMPLETED}


@dataclass(frozen=True, slots=True, kw_only=True)
class AwayLine:
    """Who is away on a day, and what is kept by that."""

    words: str
    keeps: Keeps


@dataclass(frozen=True, slots=True, kw_only=True)
class DiaryDay:
    """A day with its light at home and its sessions.

    Its strip shows the minutes of the clock from `first_minute` to `last_minute`.
    """

    on: date
    is_today: bool
    light: str
    strip: Drawing | None
    narrow_strip: Drawing | None
    sessions: tuple[DiarySession, ...]
    first_minute: int
    last_minute: int
    away: tuple[AwayLine, ...] = ()
