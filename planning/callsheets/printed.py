"""What the call sheet and the client's page say: plain values, ready for paper."""

from __future__ import annotations

from dataclasses import dataclass

from studio.scene.drawing import Drawing

Pair = tuple[str, str]


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintedPerson:
    """Somebody to ring: name, what they do, and the number or who has it."""

    name: str
    role: str
    phone: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintedSetUp:
    """One set-up as the crew reads it."""

    number: int
    start: str
    end: str
    minutes: int
    name: str
    note: str
    settings: str
    beside: str
    why: str
    dial: Drawing
    otherwise: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintedCallSheet:
    """The crew's pages, word for word; `version` and `printed` are no content."""

    studio_name: str
    job_number: str
    version: int
    title: str
    day: str
    facts: tuple[Pair, ...]
    place: str
    access: tuple[Pair, ...]
    rain: str
    people: tuple[PrintedPerson, ...]
    chart: Drawing
    set_ups: tuple[PrintedSetUp, ...]
    cautions: tuple[Pair, ...]
    notes: str
    skyline: Drawing
    skyline_title: str
    light_table: Drawing
    light_table_title: str
    kit: tuple[tuple[str, tuple[str, ...]], ...]
    readings: tuple[tuple[int, str], ...]
    foot: str
    printed: str
    who: tuple[Pair, ...] = ()
