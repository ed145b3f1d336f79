"""The printed page "Your session", for client and sitters."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from reportlab.platypus import Flowable, Spacer

from planning.callsheets.changes_box import changes_box
from planning.session_pages.printed import PrintedSession, PrintedStep
from studio.pdf.grid import Column, Grid, Look, Row
from studio.pdf.heads import LetterHead
from studio.pdf.marks import badge
from studio.pdf.paper import LETTER_PAPER, Imprint, print_pages
from studio.pdf.styles import LABEL, Style
from studio.pdf.tables import (
    HEAD_RULE,
    ROW_RULE,
    Boxed,
    bullet_list,
    side_by_side,
)
from studio.pdf.text import Words, bold, fit, rich, text

WIDTH = LETTER_PAPER.width


@dataclass(frozen=True, slots=True)
class Sizes:
    """The type of the page, smaller where there is more to say."""

    plain: float
    gap: float
    row: float

    @property
    def body(self) -> Style:
        """The type of sentences."""
        return Style(size=self.plain, leading=self.plain * 1.34)

    @property
    def section(self) -> Style:
        """The type of headings."""
        size = self.plain + 2.5
        return Style(size=size, weight=700, space_after=2.0, keep_with_next=True)

    @property
    def big(self) -> Style:
        """The type of day and place."""
        return Style(size=self.plain * 1.65, leading=self.plain * 1.95, weight=700)


SIZES = (
    Sizes(11.5, 15.0, 5.0),
    Sizes(10.5, 11.0, 3.5),
    Sizes(9.5, 8.0, 2.0),
    Sizes(8.5, 5.0, 1.0),
)


def print_session(page: PrintedSession) -> bytes:
    """Print the client's page as a PDF; an equal page gives equal bytes."""
    head = LetterHead(
        name=page.studio_name,
        contact=page.studio_lines,
        kind="Your session",
        mark=page.for_whom,
        strip=page.strip.drawing,
        notes=(
            (0.0, page.strip.daylight),
            (page.strip.booked_share, page.strip.booked),
        ),
    )
    imprint = Imprint(
        title=f"Your session, {page.for_whom.removeprefix('for ')}, {page.day}",
        author=page.studio_name,
        subject=page.day,
        foot=page.foot,
    )
    room = LETTER_PAPER.page[1] - LETTER_PAPER.bottom - head.height(1)
    sizes = next(
        (one for one in SIZES if _height(_story(page, one)) <= room), SIZES[-1]
    )
    return print_pages(_story(page, sizes), imprint=imprint, head=head)


def _height(story: Sequence[Flowable]) -> float:
    return sum(
        float(one.wrap(WIDTH, 1e6)[1] + one.getSpaceBefore() + one.getSpaceAfter())
        for one in story
    )


def _story(page: PrintedSession, sizes: Sizes) -> list[Flowable]:
    story: list[Flowable] = [
        *changes_box(page.since, page.changes),
        _facts(page, sizes),
        Spacer(1, sizes.gap),
        text(page.steps_title, sizes.section),
        _steps(page.steps, sizes),
        Spacer(1, sizes.gap),
        Boxed(rich(bold(page.light[0]), page.light[1], style=sizes.body), bar="sun"),
    ]
    for left, right in _pairs(page, sizes):
        story += [Spacer(1, sizes.gap), side_by_side(left, right)]
    return story


def _facts(page: PrintedSession, sizes: Sizes) -> Flowable:
    half = WIDTH / 2 - 14.0
    day, day_style = fit(page.day, sizes.big, width=half, smallest=sizes.plain)
    place_style = sizes.big
    if len(page.place) > 60:
        place_style = replace(sizes.body, weight=700)
    when = [text("When", LABEL), text(day, day_style), text(page.when, sizes.body)]
    where = [text("Where", LABEL), text(page.place, place_style)]
    where += [text(line, sizes.body) for line in page.where]
    return side_by_side([*when], [*where], ruled=True, gap=24.0)


def _steps(steps: Sequence[PrintedStep], sizes: Sizes) -> Flowable:
    columns = [
        Column(width=24.0),
        Column(width=46.0, style=Style(size=sizes.plain + 1.5, weight=700)),
        Column(share=1.0, style=replace(sizes.body, weight=700)),
        Column(share=1.9, style=sizes.body),
    ]
    disc = min(20.0, sizes.plain * 1.35 + sizes.row)
    rows = [
        Row(
            cells=(badge(str(number), width=disc), one.start, one.name, one.words),
            rule=ROW_RULE,
        )
        for number, one in enumerate(steps, start=1)
    ]
    rows[-1] = replace(rows[-1], rule=HEAD_RULE)
    look = Look(above=sizes.row, below=sizes.row, stand="middle", top_rule=HEAD_RULE)
    return Grid(columns, rows, look=look)


Part = list[str | Flowable]


def _pairs(page: PrintedSession, sizes: Sizes) -> list[tuple[Part, Part]]:
    """Return the parts that have something to say, two beside each other."""
    parts: list[Part] = []
    for title, lines in (("What to wear", page.wear), ("What to bring", page.bring)):
        if lines:
            bullets = bullet_list(lines, style=sizes.body)
            parts.append([_titled(title, sizes), bullets])
    for title, words in (
        ("Getting there", page.getting_there),
        ("If it pours", page.if_it_pours),
    ):
        if words:
            parts.append([_titled(title, sizes), text(words, sizes.body)])
    name, phone = page.on_the_day
    if phone:
        ring = rich(f"{name} ", bold(phone), style=sizes.body)
        parts.append([_titled("On the day", sizes), ring])
    if len(parts) % 2:
        parts.append([])
    return list(zip(parts[::2], parts[1::2], strict=True))


def _titled(title: str, sizes: Sizes) -> Words:
    return text(title, sizes.section)
