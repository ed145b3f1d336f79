"""The day strip: one day from night to night in greys, booked time hung beneath it."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import ceil

from studio.scene.day_phases import (
    DAY_MINUTES,
    Block,
    DayPhase,
    DayPhases,
    clock,
    describe_day,
)
from studio.scene.drawing import (
    INK,
    Drawing,
    Hatch,
    Line,
    Op,
    Pen,
    Polygon,
    Rect,
    Text,
    Weight,
)
from studio.scene.widths import words_width

_BAND = 0.58  # of the strip's height; booked time hangs in the rest
_COLOURS = {
    DayPhase.DAY: "white",
    DayPhase.LOW_SUN: "g200",
    DayPhase.CIVIL: "g400",
    DayPhase.NAUTICAL: "g500",
    DayPhase.NIGHT: "g600",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class StripLook:
    """How large a strip is, and which labels it carries."""

    width: float = 620.0
    height: float = 26.0
    type_size: float = 12.0
    hours: bool = True
    title: str = "Daylight"


def day_strip(
    day: DayPhases,
    *,
    blocks: Sequence[Block] = (),
    now_minute: float | None = None,
    look: StripLook = StripLook(),
) -> Drawing:
    """Draw a day's light as a strip, with booked time beneath it.

    Labels of blocks stand under their blocks, a row further down where they
    would collide; hours give way to them and to "now". A held block is hatched,
    and lies under a firm one. A block that runs out of the shown part is cut
    with an arrowhead at the edge.
    """
    strip = _Strip(day, look)
    shown = sorted(
        filter(strip.shows, blocks),
        key=lambda block: (not block.held, block.start_minute),
    )
    labels = _labels(strip, shown, now_minute)
    ops = [*_band(strip), *(op for block in shown for op in _block(strip, block))]
    ops += _now(strip, now_minute)
    ops += [label.op(strip) for label in labels]
    rows = max((label.row + 1 for label in labels), default=0)
    return Drawing(
        width=look.width,
        height=look.height + (rows * 1.25 + 0.45) * look.type_size * bool(rows) + 1,
        ops=tuple(ops),
        title=look.title,
        description=describe_day(day, blocks=blocks, now_minute=now_minute),
    )


@dataclass(frozen=True, slots=True)
class _Strip:
    day: DayPhases
    look: StripLook

    @property
    def band(self) -> float:
        return self.look.height * _BAND

    def x(self, minute: float) -> float:
        first, last = self.day.first_minute, self.day.last_minute
        part = (minute - first) / (last - first)
        return min(max(part, 0.0), 1.0) * self.look.width

    def shows(self, block: Block) -> bool:
        return (
            block.start_minute < self.day.last_minute
            and block.end_minute > self.day.first_minute
        )


def _band(strip: _Strip) -> list[Op]:
    width, band = strip.look.width, strip.band
    ops: list[Op] = [
        Rect(strip.x(start), 0, strip.x(end) - strip.x(start), band, _COLOURS[phase])
        for start, end, phase in strip.day.shown()
    ]
    ops.append(Rect(0.5, 0.5, width - 1, band - 0.5, pen=Pen("g600", 1)))
    foot = strip.look.height - 0.5
    ops.append(Line(0, foot, width, foot, Pen("g300", 1)))
    return ops


def _block(strip: _Strip, block: Block) -> list[Op]:
    left, right = strip.x(block.start_minute), strip.x(block.end_minute)
    right = max(right, min(left + 4, strip.look.width))
    left = min(left, right - 4)
    top, height = strip.band, strip.look.height - strip.band
    ops: list[Op] = [
        Rect(
            left,
            top,
            right - left,
            height,
            fill="white" if block.held else "sun",
            pen=INK,
            hatch=Hatch.RISING if block.held else None,
        )
    ]
    for minute, x, outwards in (
        (block.start_minute, left, -1),
        (block.end_minute, right, 1),
    ):
        if strip.day.first_minute <= minute <= strip.day.last_minute:
            ops.append(Line(x, 0, x, top, Pen("ink", 1.3)))
        else:
            ops.append(_arrowhead(x, top + height / 2, outwards, height * 0.4))
    return ops


def _arrowhead(x: float, y: float, outwards: int, half: float) -> Polygon:
    foot = x - outwards * half * 1.5
    return Polygon(((x, y), (foot, y - half), (foot, y + half)), fill="ink")


def _now(strip: _Strip, now_minute: float | None) -> list[Op]:
    if now_minute is None or not _within(strip.day, now_minute):
        return []
    x = min(max(strip.x(now_minute), 1.3), strip.look.width - 1.3)
    return [Line(x, 0, x, strip.look.height + 3, Pen("ink", 2.6))]


def _within(day: DayPhases, minute: float) -> bool:
    return day.first_minute <= minute <= day.last_minute


@dataclass(frozen=True, slots=True)
class _Label:
    left: float
    width: float
    words: str
    weight: Weight
    row: int = 0
    colour: str = "ink"

    def meets(self, other: "_Label", gap: float) -> bool:
        """Say whether two labels would touch."""
        return (
            self.row == other.row
            and self.left < other.left + other.width + gap
            and other.left < self.left + self.width + gap
        )

    def op(self, strip: _Strip) -> Text:
        size = strip.look.type_size
        y = strip.look.height + size * (1.2 + 1.25 * self.row)
        middle = self.left + self.width / 2
        return Text(middle, y, self.words, size, self.colour, "middle", self.weight)


def _labels(
    strip: _Strip, blocks: Sequence[Block], now_minute: float | None
) -> list[_Label]:
    placed: list[_Label] = []
    if now_minute is not None and _within(strip.day, now_minute) and strip.look.hours:
        now = _label(strip, strip.x(now_minute), f"now {clock(now_minute)}", 700)
        placed.append(now)
    for block in blocks:
        if block.label:
            middle = (strip.x(block.start_minute) + strip.x(block.end_minute)) / 2
            placed.append(_lowered(_label(strip, middle, block.label, 600), placed))
    if strip.look.hours:
        placed += _hours(strip, placed)
    return placed


def _label(
    strip: _Strip, middle: float, words: str, weight: Weight, colour: str = "ink"
) -> _Label:
    width = words_width(words, size=strip.look.type_size, weight=weight)
    left = min(max(middle - width / 2, 0.0), max(strip.look.width - width, 0.0))
    return _Label(left, width, words, weight, colour=colour)


def _lowered(label: _Label, placed: Sequence[_Label]) -> _Label:
    row = 0
    while True:
        tried = replace(label, row=row)
        if not any(tried.meets(other, 8.0) for other in placed):
            return tried
        row += 1


def _hours(strip: _Strip, placed: Sequence[_Label]) -> list[_Label]:
    first, last = strip.day.first_minute, strip.day.last_minute
    room = strip.look.width / max((last - first) / 60.0, 1.0)
    widest = words_width("00", size=strip.look.type_size) * 1.9
    step = next((hours for hours in (3, 6, 12) if hours * room >= widest), 24) * 60
    found: list[_Label] = []
    minute = ceil(first / step) * step
    while minute <= last:
        words = "24" if minute == DAY_MINUTES else clock(minute)[:2]
        label = _label(strip, strip.x(minute), words, 400, "g700")
        if not any(label.meets(other, 6.0) for other in [*placed, *found]):
            found.append(label)
        minute += step
    return found
