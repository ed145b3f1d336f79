"""Who is rung, on the crew's paper: a few beside the place, many on later pages."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from math import ceil
from typing import Final

from planning.callsheets.printed import PrintedPerson
from studio.pdf.grid import Column, Grid
from studio.pdf.styles import BOLD, ROW, SMALL, right
from studio.pdf.tables import ruled_rows, side_by_side
from studio.pdf.text import Words, heading, text

MOST_BESIDE: Final = 9
"""So many people stand beside the place; of more, the first stand there."""

MOST_WORDS: Final = 120


def people_beside(people: Sequence[PrintedPerson]) -> list[Grid | Words]:
    """Set the people of the first page, and how many more stand elsewhere."""
    first = people[: _count(people)]
    if more := len(people) - len(first):
        return [_table(first), text(f"And {more} more, under “More people”.", SMALL)]
    return [_table(first)]


def people_elsewhere(people: Sequence[PrintedPerson]) -> list[Grid | Words]:
    """Set the people whom the first page has no room for, in two columns."""
    rest = people[_count(people) :]
    if not rest:
        return []
    half = ceil(len(rest) / 2)
    columns = [[_table(part)] if part else [] for part in (rest[:half], rest[half:])]
    return [heading("More people"), side_by_side(*columns, ruled=True)]


def _count(people: Sequence[PrintedPerson]) -> int:
    return len(people) if len(people) <= MOST_BESIDE else MOST_BESIDE - 2


def _table(people: Sequence[PrintedPerson]) -> Grid:
    columns = [
        Column(share=3.0, style=replace(BOLD, leading=12.6)),
        Column(share=3.0, style=SMALL),
        Column(share=2.9, style=right(replace(ROW, weight=600))),
    ]
    rows = [
        (_cut(one.name), _cut(one.role), text(_cut(one.phone), columns[2].style))
        for one in people
    ]
    return ruled_rows(columns, rows)


def _cut(words: str) -> str:
    if len(words) <= MOST_WORDS:
        return words
    return words[:MOST_WORDS].rstrip() + "…"
