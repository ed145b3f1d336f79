"""The table of set-ups on the crew's paper, and how much room a page gives."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

from planning.callsheets.printed import PrintedSetUp
from studio.pdf.grid import Column, Grid, Look, Row
from studio.pdf.marks import badge
from studio.pdf.scene import Drawn
from studio.pdf.stack import Cell
from studio.pdf.styles import BODY, ROW, SETTING, SMALL, Style
from studio.pdf.tables import HEAD_RULE
from studio.pdf.text import Words, bold, rich, text
from studio.scene.drawing import Pen

_RULE: Final = Pen("g400", 0.6)
_NAME: Final = Style(size=11.5, weight=700)


@dataclass(frozen=True, slots=True, kw_only=True)
class Room:
    """How much room a page gives: to dials, to rows written in, to words."""

    dial: float
    row: float
    caution: Style
    plain: Style
    kit: Style
    is_tight: bool = False


ROOMY: Final = Room(
    dial=57.0,
    row=23.5,
    caution=replace(ROW, leading=13.2),
    plain=replace(BODY, leading=14.0),
    kit=ROW,
)
TIGHT: Final = Room(
    dial=48.0,
    row=19.5,
    caution=SMALL,
    plain=replace(BODY, leading=12.6),
    kit=ROW,
    is_tight=True,
)
TIGHTEST: Final = Room(
    dial=44.0,
    row=17.0,
    caution=replace(SMALL, leading=11.4),
    plain=replace(SMALL, colour="ink", leading=11.8),
    kit=replace(SMALL, colour="ink"),
    is_tight=True,
)
ROOMS: Final = (ROOMY, TIGHT, TIGHTEST)


def set_up_table(set_ups: Sequence[PrintedSetUp], room: Room) -> Grid:
    """Set a row for each set-up; its fallback stands below the table."""
    columns = [
        Column(width=24.0),
        Column(width=50.0, head="Time"),
        Column(width=146.0 if room.is_tight else 134.0, head="Set-up and lighting"),
        Column(width=room.dial + 6.0, head="From above"),
        Column(head="Start from"),
    ]
    rows = [Row(cells=_cells(one, room), rule=_RULE) for one in set_ups]
    head = Row(cells=tuple(column.head for column in columns), rule=HEAD_RULE)
    above = 1.0 if room.is_tight else 1.5
    look = Look(gap=7.0, above=above, below=above + 0.5, stand="middle")
    return Grid(columns, rows, head=head, look=look)


def fallback_line(set_ups: Sequence[PrintedSetUp]) -> list[Words]:
    """Set what to dial under the other sky in one line, each by its number."""
    having = [one for one in set_ups if one.otherwise]
    if not having:
        return []
    sky = having[0].otherwise.partition(":")[0]
    said = [
        piece
        for one in having
        for piece in (bold(f"{one.number}  "), f"{one.otherwise.partition(': ')[2]}  ")
    ]
    words = replace(SMALL, colour="ink", space_before=2.0)
    return [rich(bold(f"{sky}:  "), *said, style=words)]


def _cells(one: PrintedSetUp, room: Room) -> tuple[Cell, ...]:
    time = [
        text(one.start, SETTING),
        text(f"to {one.end}", BODY),
        text(f"{one.minutes} min", SMALL),
    ]
    note = SMALL if room.is_tight else BODY
    what = [text(one.name, _NAME), text(one.note, replace(note, colour="ink"))]
    start = [text(one.settings, SETTING)]
    if one.beside:
        start.append(text(one.beside, replace(ROW, weight=600)))
    start.append(text(one.why, room.caution if room is TIGHTEST else SMALL))
    return badge(str(one.number)), time, what, Drawn(one.dial, room.dial), start
