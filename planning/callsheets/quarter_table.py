"""The light every quarter of an hour, drawn as a table whose dusk is shaded."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from planning.shoots.shown import LightRow
from studio.scene.drawing import Drawing, Line, Op, Pen, Rect, Text
from studio.scene.widths import words_width
from studio.timespan import clock_words

_SHADES = {"shade": "g100", "dark": "g200"}
_NAMES = ("Sun from", "Height", "EV, full sun", "EV, shade", "EV, overcast")


@dataclass(frozen=True, slots=True, kw_only=True)
class TableLook:
    """How large the table is; columns are no wider than `widest`."""

    width: float = 760.0
    type_size: float = 13.8
    names: float = 96.0
    widest: float = 62.0


WIDE = TableLook()


def quarter_table(rows: Sequence[LightRow], look: TableLook = WIDE) -> Drawing:
    """Draw times across and their light beneath, shaded once the sun is lost or set."""
    table = _Table(rows, look)
    said = "; ".join(
        f"{clock_words(row.at)}: sun {row.azimuth}, {row.height}, full sun {row.sun}, "
        f"shade {row.shade}, overcast {row.overcast}"
        for row in rows
    )
    return Drawing(
        width=look.width,
        height=table.height,
        ops=tuple(table.ops()),
        title="Light every quarter of an hour",
        description=said,
    )


class _Table:
    def __init__(self, rows: Sequence[LightRow], look: TableLook) -> None:
        self.rows, self.look = rows, look
        self.line = 1.66 * look.type_size
        room = look.width - look.names
        self.column = min(room / max(len(rows), 1), look.widest)
        self.head = 1.75 * look.type_size
        self.height = self.head + len(_NAMES) * self.line + 1

    def ops(self) -> Iterator[Op]:
        """Give grounds first, then rules, then words."""
        right = self.look.names + self.column * len(self.rows)
        for place, row in enumerate(self.rows):
            if shade := _SHADES.get(row.phase):
                left = self.look.names + place * self.column
                high = self.height - self.head
                yield Rect(left, self.head, self.column, high, fill=shade)
        yield Line(0, self.head, right, self.head, Pen("ink", 1.7))
        for number, name in enumerate(_NAMES):
            y = self.head + (number + 1) * self.line
            if number < len(_NAMES) - 1:
                yield Line(0, y, right, y, Pen("g300", 0.8))
            base = y - 0.46 * self.look.type_size
            yield Text(0, base, name, self.look.type_size)
        base = self.head - 0.58 * self.look.type_size
        yield Text(0, base, "Clock", self.look.type_size, weight=600)
        for place, row in enumerate(self.rows):
            yield from self._column(place, row)

    def _column(self, place: int, row: LightRow) -> Iterator[Op]:
        size = self.look.type_size
        x = self.look.names + (place + 0.5) * self.column
        base = self.head - 0.58 * size
        clock = clock_words(row.at)
        wide = words_width(clock, size=size, weight=700)
        small = size * min(1.0, (self.column - 3.0) / wide)
        yield Text(x, base, clock, small, anchor="middle", weight=700)
        cells = (row.azimuth, row.height, row.sun, row.shade, row.overcast)
        for number, words in enumerate(cells, start=1):
            y = self.head + number * self.line - 0.46 * size
            colour = "g600" if words == "–" else "ink"
            yield Text(x, y, words, size, colour, "middle")
