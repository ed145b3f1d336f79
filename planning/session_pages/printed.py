"""What the client's one page says: plain values, ready for paper."""

from __future__ import annotations

from dataclasses import dataclass

from studio.scene.drawing import Drawing

Pair = tuple[str, str]


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintedStep:
    """One line of how the session goes, in everyday words."""

    start: str
    name: str
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintedStrip:
    """The day strip, and the two notes under it: the daylight, and the session."""

    drawing: Drawing
    daylight: str
    booked: str
    booked_share: float


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintedSession:
    """The one page for client and sitters: no crew's numbers, no exposure."""

    studio_name: str
    studio_lines: tuple[str, ...]
    for_whom: str
    strip: PrintedStrip
    day: str
    when: str
    facts: tuple[Pair, ...]
    place: str
    where: tuple[str, ...]
    steps_title: str
    steps: tuple[PrintedStep, ...]
    light: Pair
    wear: tuple[str, ...]
    bring: tuple[str, ...]
    getting_there: str
    if_it_pours: str
    on_the_day: Pair
    foot: str
    since: str = ""
    changes: tuple[str, ...] = ()
