"""What the call sheet and the client's page say: plain values, ready for paper."""

from __future__ import annotations

from dataclasses import dataclass, field

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
    key: int = field(default=0, repr=False)
    """The set-up's row, which stays the same from version to version."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintedCallSheet:
    """The crew's pages, word for word.

    `version`, `printed`, `since` and `changes` are no content: they say how this
    version stands to earlier ones.
    """

    studio_name: str
    job_number: str
    version: int
    title: str
    day: str
    facts: tuple[Pair, ...]
    place: tuple[Pair, ...]
    access: tuple[Pair, ...]
    rain: str
    people: tuple[PrintedPerson, ...]
    chart: Drawing
    chart_low: Drawing
    set_ups: tuple[PrintedSetUp, ...]
    cautions: tuple[Pair, ...]
    notes: str
    skyline: Drawing
    skyline_title: str
    light_table: Drawing
    light_table_title: str
    light: tuple[tuple[str, ...], ...]
    kit: tuple[tuple[str, tuple[str, ...]], ...]
    readings: tuple[tuple[int, str], ...]
    foot: str
    printed: str
    who: tuple[Pair, ...] = ()
    since: str = ""
    changes: tuple[str, ...] = ()

    @property
    def place_words(self) -> str:
        """The place in running words; what explains itself goes without its label."""
        said = [
            f"{label}: {words}" if label in {"Meeting point", "Power"} else words
            for label, words in self.place
        ]
        return " ".join(said)
