"""What lies behind a light chart's curves: phases of the day, grid and clock."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime

from planning.shoots.charts.frame import HIGHEST_EV, LOWEST_EV, Frame
from planning.shoots.charts.scale import clock_marks, shutter_mark
from planning.shoots.daylight import Moment
from studio.scene.drawing import Line, Op, Pen, Rect, Text
from studio.scene.widths import words_width

F_NUMBER, ISO = 4.0, 400.0


@dataclass(frozen=True, slots=True)
class _Phase:
    start: datetime
    end: datetime
    fill: str
    words: str


class Backdrop:
    """The phases of the day, the two scales of light, and the clock."""

    def __init__(self, frame: Frame) -> None:
        self.frame = frame

    def ops(self) -> Iterator[Op]:
        """Give everything that is painted before the curves."""
        yield from self._day_phases()
        yield from self._grid()
        yield from self._clock()

    def _day_phases(self) -> Iterator[Op]:
        for phase in self._phases():
            left, right = self.frame.plot.x(phase.start), self.frame.plot.x(phase.end)
            if right - left < 0.5:
                continue
            yield Rect(left, 0, right - left, self.frame.plot.base, fill=phase.fill)
            if phase.fill != "white" and phase.start > self.frame.plot.first:
                yield Line(left, 0, left, self.frame.plot.base, Pen("g600", 1.0))
            wide = words_width(phase.words, size=self.frame.size, weight=600)
            if wide < right - left - 4:
                middle = (left + right) / 2
                yield Text(
                    middle,
                    self.frame.plot.top - 0.75 * self.frame.size,
                    phase.words,
                    self.frame.size,
                    anchor="middle",
                    weight=600,
                )

    def _phases(self) -> list[_Phase]:
        runs: list[_Phase] = []
        for moment in self.frame.moments:
            fill, words = self._phase_at(moment)
            if runs and runs[-1].words == words:
                runs[-1] = _Phase(runs[-1].start, moment.at, fill, words)
            else:
                start = runs[-1].end if runs else moment.at
                runs.append(_Phase(start, moment.at, fill, words))
        return runs

    def _phase_at(self, moment: Moment) -> tuple[str, str]:
        if moment.is_shining:
            return "white", "Daylight" if self.frame.is_closed else "Direct sun"
        if moment.is_up:
            behind = moment.hidden_by
            name = behind.name if behind and behind.name else "skyline"
            return "g100", "No sun" if self.frame.look.narrow else f"Behind {name}"
        if moment.altitude_deg > -6.0:
            early = moment.at < self.frame.shoot.light.day.solar_noon
            return "g200", "Dawn" if early else "Dusk"
        return "g400", "Dark"

    def _grid(self) -> Iterator[Op]:
        plot, size = self.frame.plot, self.frame.size
        yield Line(plot.left, plot.top, plot.right, plot.top, Pen("g600", 1.0))
        for value in range(int(LOWEST_EV), int(HIGHEST_EV) + 1, 2):
            y, lowest = plot.y(value), value == LOWEST_EV
            pen = Pen("g700", 1.2) if lowest else Pen("g300", 0.7)
            yield Line(plot.left, y, plot.right, y, pen)
            yield Text(
                plot.left - 0.5 * size, y + 0.34 * size, str(value), size, "g700", "end"
            )
            if value < HIGHEST_EV:
                mark = shutter_mark(value, F_NUMBER, ISO)
                yield Text(plot.right + 0.5 * size, y + 0.34 * size, mark, size, "g700")
        head = plot.top - 0.75 * size
        yield Text(plot.left - 0.5 * size, head, "EV", size, anchor="end", weight=700)
        for row, words in enumerate((f"at f/{F_NUMBER:g}", f"ISO {ISO:.0f}")):
            y = plot.y(HIGHEST_EV) + (0.05 + row) * size - 0.2 * size
            yield Text(plot.right + 0.5 * size, y, words, size * 0.9, weight=700)

    def _clock(self) -> Iterator[Op]:
        plot, size = self.frame.plot, self.frame.size
        labelled = self.frame.label_minutes
        for at in clock_marks(plot.first, plot.last, min(labelled // 2, 60) or 15):
            x, whole = plot.x(at), at.minute == 0
            yield Line(
                x, plot.base, x, plot.base + (7 if whole else 4), Pen("g700", 1.0)
            )
        for at in clock_marks(plot.first, plot.last, labelled):
            x, whole = plot.x(at), at.minute == 0
            if plot.left + size < x < plot.right - size:
                yield Text(
                    x,
                    plot.base + 1.55 * size,
                    self.frame.clock(at),
                    size,
                    "ink" if whole else "g700",
                    "middle",
                    600 if whole else 400,
                )
