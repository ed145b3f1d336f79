"""The printed call sheet: two pages for the crew, more where there is more to say."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import datetime
from itertools import groupby
from math import ceil

from reportlab.platypus import Flowable, PageBreak, Spacer

from jobs.bookings.models import Booking
from planning.callsheets.changes_box import changes_box
from planning.callsheets.people_table import people_beside, people_elsewhere
from planning.callsheets.printed import (
    Pair,
    PrintedCallSheet,
)
from planning.callsheets.set_up_table import (
    ROOMS,
    ROOMY,
    TIGHT,
    TIGHTEST,
    Room,
    fallback_line,
    set_up_table,
)
from planning.callsheets.sheet_content import printed_call_sheet
from studio.pdf.fonts import missing_glyphs
from studio.pdf.grid import Column, Grid, Look, Row
from studio.pdf.heads import MM, SheetHead
from studio.pdf.marks import badge, caution
from studio.pdf.paper import SHEET_PAPER, Imprint, print_pages
from studio.pdf.scene import Drawn
from studio.pdf.styles import BOLD, FACT, LABEL, ROW, SMALL, Style
from studio.pdf.tables import (
    GROUP_RULE,
    HEAD_RULE,
    Boxed,
    caution_box,
    facts,
    ruled_rows,
    side_by_side,
    tick_list,
    write_in,
)
from studio.pdf.text import bold, fit, heading, line_width, rich, text
from studio.scene.drawing import Drawing

WIDTH = SHEET_PAPER.width
HEIGHT = SHEET_PAPER.page[1] - SHEET_PAPER.bottom - 25.0 * MM
LONG_SECTION = 14
LOST_AT_BREAK = 60.0
"""What a page may lose in height to a row that moves to the next one, in points."""
Section = tuple[str, tuple[str, ...]]


def print_call_sheet(sheet: PrintedCallSheet) -> bytes:
    """Print the crew's call sheet as a PDF; an equal sheet gives equal bytes."""
    over = (
        f"{sheet.studio_name}, call sheet for {sheet.job_number}, "
        f"version {sheet.version}"
    )
    head = SheetHead(over=over, title=sheet.title, beside=sheet.day)
    imprint = Imprint(
        title=f"Call sheet {sheet.job_number}, {sheet.title}",
        author=sheet.studio_name,
        subject=sheet.day,
        foot=sheet.foot,
        foot_right=sheet.printed,
    )
    story = [*_story(sheet), *people_elsewhere(sheet.people)]
    return print_pages(story, imprint=imprint, head=head, stationery=SHEET_PAPER)


def _story(sheet: PrintedCallSheet) -> list[Flowable]:
    """Return two pages where they do, else one run over as many as it needs."""
    first = fitting(_first, sheet)
    second = fitting(_second, sheet)
    if _fit(first, second):
        return [*first, PageBreak(), *second]
    longer = [*first, *_write_down(sheet, TIGHT)]
    shorter = fitting(_second, replace(sheet, readings=()))
    if _fit(longer, shorter):
        return [*longer, PageBreak(), *shorter]
    two_pages = 2 * HEIGHT - LOST_AT_BREAK - height_of(first, WIDTH)
    second = fitting(_second, sheet, height=two_pages)
    if height_of(second, WIDTH) > two_pages:
        second = _second(sheet, ROOMY)
    return [*first, Spacer(1, 6), *second]


def _fit(*stories: list[Flowable]) -> bool:
    return all(height_of(story, WIDTH) <= HEIGHT for story in stories)


def _write_down(sheet: PrintedCallSheet, room: Room) -> list[Flowable]:
    if not sheet.readings:
        return []
    return [heading("Write it down"), _readings(sheet.readings, room)]


def fitting(
    build: Callable[[PrintedCallSheet, Room], list[Flowable]],
    sheet: PrintedCallSheet,
    *,
    height: float = HEIGHT,
) -> list[Flowable]:
    """Return a part of the sheet set as roomily as a height allows."""
    built: list[Flowable] = []
    for room in ROOMS:
        built = build(sheet, room)
        if height_of(built, WIDTH) <= height:
            break
    return built


def height_of(story: Sequence[Flowable], width: float) -> float:
    """Return how high a story stands at a width, in points, or a little less."""
    return sum(
        float(one.wrap(width, 1e6)[1] + one.getSpaceBefore() + one.getSpaceAfter())
        for one in story
    )


def missing_letters(booking: Booking, at: datetime) -> str:
    """Return the characters of a booking that paper would show as boxes."""
    sheet = printed_call_sheet(booking, version=0, at=at)
    words = [sheet.studio_name, sheet.title, sheet.place_words, sheet.rain, sheet.notes]
    words += [one.name + one.role for one in sheet.people]
    words += [one.name + one.note for one in sheet.set_ups]
    words += [names for _, names in sheet.who]
    words += [word for _, items in sheet.kit for word in items]
    return missing_glyphs("".join([*words, booking.job.client.name]))


def _first(sheet: PrintedCallSheet, room: Room) -> list[Flowable]:
    story: list[Flowable] = [
        Spacer(1, 3),
        *changes_box(sheet.since, sheet.changes),
        _facts(sheet.facts),
        _rule(),
        _place_and_people(sheet, room),
        heading("Light and set-ups"),
        _drawn(sheet.chart_low if room is TIGHTEST else sheet.chart),
        Spacer(1, 2),
    ]
    if sheet.set_ups:
        story.append(set_up_table(sheet.set_ups, room))
        return [*story, *fallback_line(sheet.set_ups)]
    return [*story, text("No set-ups are planned yet.", SMALL)]


def _second(sheet: PrintedCallSheet, room: Room) -> list[Flowable]:
    story: list[Flowable] = [heading("Cautions")]
    if sheet.cautions:
        story.append(_cautions(sheet.cautions, room))
    else:
        story.append(text("The plan gives no reason for caution.", SMALL))
    if sheet.notes:
        story += [Spacer(1, 5), rich(bold("Note: "), sheet.notes, style=ROW)]
    if sheet.who:
        story += [Spacer(1, 5), _who(sheet.who)]
    story += [_one_line_heading(sheet.skyline_title), _drawn(sheet.skyline)]
    story += [heading(sheet.light_table_title), _drawn(sheet.light_table)]
    if sheet.kit:
        story += [heading("Kit"), _kit(sheet.kit, room)]
    return [*story, *_write_down(sheet, room)]


def _who(lines: Sequence[Pair]) -> Flowable:
    pieces = [
        part
        for label, names in lines
        for part in (bold(f"{label}: "), f"{names.rstrip('.')}. ")
    ]
    return rich(*pieces, style=ROW)


def _facts(pairs: Sequence[Pair]) -> Flowable:
    """Set the times large; where they are many, smaller, so that none is broken."""
    gaps = 14.0 * (len(pairs) - 1)
    wanted = [_widest(pair, FACT) for pair in pairs]
    scale = min((WIDTH - gaps) / sum(wanted), 1.0)
    style = replace(FACT, size=FACT.size * scale) if scale < 1.0 else FACT
    return facts(pairs, style=style, shares=[_widest(pair, style) for pair in pairs])


def _widest(pair: Pair, style: Style) -> float:
    return max(line_width(pair[0], LABEL), line_width(pair[1], style)) + 2.0


def _rule() -> Flowable:
    line = Look(above=0.0, below=0.0, top_rule=GROUP_RULE)
    return Grid([Column()], [Row(cells=(None,))], look=line)


def _place_and_people(sheet: PrintedCallSheet, room: Room) -> Flowable:
    pieces = [
        piece for label, words in sheet.access for piece in (bold(label), f"{words} ")
    ]
    parts = [("Place", text(sheet.place_words, room.plain))]
    if pieces:
        parts.append(("Access", rich(*pieces, style=room.plain)))
    if sheet.rain:
        parts.append(("If it rains", text(sheet.rain, room.plain)))
    left: list[str | Flowable] = [Spacer(1, 3)]
    for label, words in parts:
        left += [text(label, replace(BOLD, space_before=3.0)), words]
    right = [Spacer(1, 3), *people_beside(sheet.people)]
    return side_by_side(left, right, ruled=True)


def _kit(kit: Sequence[Section], room: Room) -> Flowable:
    """Set a section a column; where one is long, run them on over three columns."""
    columns = [[section] for section in kit]
    if len(columns) > 3 or max(len(items) for _, items in kit) > LONG_SECTION:
        columns = balanced(kit, 3)
    cells = [
        [
            part
            for title, items in column
            for part in tick_list(title, items, style=room.kit)
        ]
        for column in columns
    ]
    cells += [[] for _ in range(3 - len(cells))]
    top = Look(gap=14.0, above=4.0, below=0.0, top_rule=HEAD_RULE)
    return Grid([Column() for _ in cells], [Row(cells=tuple(cells))], look=top)


def balanced(kit: Sequence[Section], count: int) -> list[list[Section]]:
    """Return sections run on over so many columns of about the same length."""
    lines = [(title, item) for title, items in kit for item in items]
    size = max(ceil(len(lines) / count), 1)
    columns: list[list[Section]] = []
    for start in range(0, len(lines), size):
        runs = groupby(lines[start : start + size], key=lambda line: line[0])
        columns.append([(title, tuple(one for _, one in run)) for title, run in runs])
    return columns


def _cautions(cautions: Sequence[Pair], room: Room) -> Flowable:
    if room is ROOMY:
        return caution_box(cautions)
    style = replace(room.caution, colour="ink")
    rows = [
        (caution(width=12.0), rich(bold(f"{matter} "), remedy, style=style))
        for matter, remedy in cautions
    ]
    columns = [Column(width=14.0), Column(style=style)]
    return Boxed(ruled_rows(columns, rows, stand="top"))


def _readings(readings: Sequence[tuple[int, str]], room: Room) -> Flowable:
    columns = [
        Column(width=22.0),
        Column(width=100.0, head="Plan says", style=ROW),
        Column(share=3.2, head="Reading on the day: time, EV"),
        Column(share=2.6, head="Settings used"),
        Column(share=1.2, head="Frames"),
    ]
    rows = [
        (badge(str(number), width=room.row - 4.0), words, None, None, None)
        for number, words in readings
    ]
    return write_in(columns, rows, height=room.row)


def _one_line_heading(words: str) -> Flowable:
    section = Style(size=12.5, weight=700)
    return heading(fit(words, section, width=WIDTH, smallest=12.5)[0])


def _drawn(drawing: Drawing) -> Flowable:
    return Drawn(drawing, WIDTH)
