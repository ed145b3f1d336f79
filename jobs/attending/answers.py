"""What people told of themselves as plain values, and what changed meanwhile.

A page posts what it was shown beside what was typed. Where a field stands otherwise
now, somebody else wrote meanwhile: nothing is saved, and each such field says so.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any, Final

Values = Mapping[str, Any]
SESSION: Final = "session"
TAKEN_OFF: Final = "Taken off the list meanwhile. Save again to put them back."
ADDED: Final = "Added to the list meanwhile."


@dataclass(frozen=True, slots=True, kw_only=True)
class Snapshot:
    """What stands, or stood, of a session: its own answers, and each person's."""

    session: Values
    people: Mapping[int, Values] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class Draft:
    """What was typed: for the session, for each person by row, and who is new."""

    session: Values
    people: Mapping[int, Values]
    removed: frozenset[int] = frozenset()
    new: tuple[Values, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Meanwhile:
    """One field that stands otherwise than it was shown.

    `row` is a person's, None the session's own; `shown` is what its box holds now.
    """

    row: int | None
    name: str
    shown: Any
    sentence: str


def changed_meanwhile(
    base: Snapshot, stands: Snapshot, typed: Draft
) -> tuple[Meanwhile, ...]:
    """Return each field that somebody else changed, and what its box is to hold."""
    return tuple(_changes(base, stands, typed))


def _changes(base: Snapshot, stands: Snapshot, typed: Draft) -> Iterator[Meanwhile]:
    yield from _fields(None, base.session, stands.session, typed.session)
    for row, values in typed.people.items():
        if row in stands.people:
            was = base.people.get(row, {})
            yield from _fields(row, was, stands.people[row], values)
        elif row not in typed.removed:
            yield Meanwhile(
                row=row, name="name", shown=values["name"], sentence=TAKEN_OFF
            )


def _fields(
    row: int | None, was: Values, stands: Values, typed: Values
) -> Iterator[Meanwhile]:
    for name, now in stands.items():
        before, wanted = was.get(name), typed.get(name)
        if now in (before, wanted):
            continue
        if wanted == before:
            words = f"Changed meanwhile; before it was {said(before)}."
            yield Meanwhile(row=row, name=name, shown=now, sentence=words)
        else:
            words = (
                f"Somebody else wrote {said(now)} meanwhile. Save again to keep yours."
            )
            yield Meanwhile(row=row, name=name, shown=wanted, sentence=words)


def said(value: Any) -> str:
    """Return an answer as a sentence names it."""
    if value is True:
        return "ticked"
    if value is False:
        return "not ticked"
    return f"“{value}”" if value not in (None, "") else "empty"
