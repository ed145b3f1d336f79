"""The set-ups on a light chart: on their light, in the lane, and the sun's dials."""

from __future__ import annotations

from collections.abc import Iterator
from math import cos, radians, sin

from planning.light.exposure import exposure_value
from planning.shoots.charts.frame import Frame
from planning.shoots.charts.scale import clock_marks
from planning.shoots.daylight import Moment
from planning.shoots.planned import PlannedSetUp, compass
from studio.scene.drawing import (
    Circle,
    Line,
    Op,
    Pen,
    Point,
    Polyline,
    Rect,
    Text,
    badge,
)
from studio.scene.widths import words_width


class Marks:
    """Bands, boxes and numbers of the set-ups."""

    def __init__(self, frame: Frame) -> None:
        self.frame = frame

    def ops(self) -> Iterator[Op]:
        """Give everything that is painted over the curves."""
        yield from self._set_ups()
        if self.frame.look.dials:
            yield from self._sun_dials()

    def _set_ups(self) -> Iterator[Op]:
        for one in self._inside:
            yield from self._band(one)
            yield from self._lane_box(one)
        placed: list[Point] = []
        for one in sorted(self._inside, key=self._is_chosen, reverse=True):
            x, y = self._badge_at(one)
            apart = 1.5 * self._badge_radius
            if all(abs(x - px) > apart or abs(y - py) > apart for px, py in placed):
                placed.append((x, y))
                label = str(one.facts.number)
                yield from badge(x, y, label, radius=self._badge_radius)

    @property
    def _inside(self) -> list[PlannedSetUp]:
        """The set-ups that the chart's hours touch; others have no place on it."""
        plot = self.frame.plot
        return [
            one
            for one in self.frame.shoot.set_ups
            if one.facts.starts_at < plot.last and one.facts.ends_at > plot.first
        ]

    @property
    def _badge_radius(self) -> float:
        return 0.82 * self.frame.size

    def _badge_at(self, one: PlannedSetUp) -> Point:
        middle = (self._shown_ev(one, end=False) + self._shown_ev(one, end=True)) / 2
        return (self._left(one) + self._right(one)) / 2, self.frame.plot.y(middle)

    def _is_chosen(self, one: PlannedSetUp) -> bool:
        return one.facts.number == self.frame.look.chosen

    def _left(self, one: PlannedSetUp) -> float:
        return self.frame.plot.x(one.facts.starts_at)

    def _right(self, one: PlannedSetUp) -> float:
        return max(self.frame.plot.x(one.facts.ends_at), self._left(one) + 3)

    def _shown_ev(self, one: PlannedSetUp, *, end: bool) -> float:
        if one.is_flash_lit:
            return settings_ev(one)
        return one.end.exposure_value if end else one.start.exposure_value

    def _band(self, one: PlannedSetUp) -> Iterator[Op]:
        points = (
            (self._left(one), self.frame.plot.y(self._shown_ev(one, end=False))),
            (self._right(one), self.frame.plot.y(self._shown_ev(one, end=True))),
        )
        flash = one.is_flash_lit
        yield Polyline(points, Pen("ink", 8.5))
        yield Polyline(points, Pen("sun", 5.0, (5.0, 3.5) if flash else ()))
        if flash:
            (x1, y), (x2, _) = points
            words = "flash" if self.frame.look.narrow else "flash, steady"
            yield Text(
                (x1 + x2) / 2,
                y - 1.15 * self.frame.size,
                words,
                self.frame.size,
                anchor="middle",
                weight=700,
                halo="white",
            )

    def _lane_box(self, one: PlannedSetUp) -> Iterator[Op]:
        left, right, size = self._left(one), self._right(one), self.frame.size
        ground, ink = ("ink", "white") if self._is_chosen(one) else ("white", "ink")
        for x in (left, right):
            yield Line(
                x,
                self.frame.plot.base,
                x,
                self.frame.lane_top + self.frame.lane,
                Pen("ink", 1, (2, 2)),
            )
        yield Rect(
            left,
            self.frame.lane_top,
            right - left,
            self.frame.lane,
            fill=ground,
            pen=Pen("ink", 1.6),
            radius=2,
        )
        yield Rect(
            left,
            self.frame.lane_top,
            right - left,
            0.45 * size,
            fill="sun",
            pen=Pen("ink", 1.2),
        )
        middle, number = (left + right) / 2, str(one.facts.number)
        if words_width(number, size=size * 1.25, weight=700) > right - left:
            return
        yield Text(
            middle,
            self.frame.lane_top + 1.72 * size,
            number,
            size * 1.25,
            ink,
            anchor="middle",
            weight=700,
        )
        words = self._times(one, right - left)
        yield Text(
            middle,
            self.frame.lane_top + 2.95 * size,
            words,
            size * 0.94,
            ink,
            anchor="middle",
            weight=600,
        )

    def _times(self, one: PlannedSetUp, room: float) -> str:
        start, end = (
            self.frame.clock(one.facts.starts_at),
            self.frame.clock(one.facts.ends_at),
        )
        for words in (f"{start}–{end}", start):
            if words_width(words, size=self.frame.size * 0.94, weight=600) < room - 4:
                return words
        return ""

    def _sun_dials(self) -> Iterator[Op]:
        size = self.frame.size
        y = self.frame.lane_top + self.frame.lane + 2.0 * size
        yield Text(
            self.frame.plot.left - 0.5 * size,
            y - 0.1 * size,
            "Sun",
            size,
            "ink",
            "end",
            700,
        )
        yield Text(
            self.frame.plot.left - 0.5 * size, y + size, "from", size, "ink", "end", 700
        )
        step = self.frame.minutes_apart(5.7 * size)
        marks = clock_marks(self.frame.plot.first, self.frame.plot.last, step)
        plot = self.frame.plot
        first, last = plot.left + 2.2 * size, plot.right - size
        inside = [at for at in marks if first < plot.x(at) < last]
        for moment in self.frame.shoot.light.moments(inside):
            yield from self._sun_dial(moment, y)

    def _sun_dial(self, moment: Moment, y: float) -> Iterator[Op]:
        x, radius = self.frame.plot.x(moment.at), 0.85 * self.frame.size
        rim = "ink" if moment.is_up else "g500"
        yield Circle(x, y, radius, fill="white", pen=Pen(rim, 1.2))
        yield Line(x, y - radius, x, y - radius + 3, Pen("ink", 1.0))
        if moment.is_up:
            px, py = _on_circle(x, y, radius, moment.azimuth_deg)
            yield Line(x, y, px, py, Pen("ink", 1.2))
            yield Circle(
                px, py, 0.36 * self.frame.size, fill="sun", pen=Pen("ink", 1.2)
            )
        words = (
            f"{compass(moment.azimuth_deg)}, {max(moment.altitude_deg, 0):.0f}° up"
            if moment.is_up
            else "set"
        )
        yield Text(
            x,
            y + 1.95 * self.frame.size,
            words,
            self.frame.size * 0.92,
            "ink" if moment.is_up else "g600",
            "middle",
        )


def settings_ev(one: PlannedSetUp) -> float:
    """Return the EV that a set-up's settings suit; its daylight where it has none."""
    suggestion = one.suggestion
    if suggestion is None:
        return one.start.exposure_value
    return exposure_value(
        f_number=suggestion.f_number.exact,
        shutter_s=suggestion.shutter.exact,
        iso=suggestion.iso.exact,
    )


def _on_circle(
    x: float, y: float, radius: float, azimuth_deg: float
) -> tuple[float, float]:
    angle = radians(azimuth_deg)
    return x + radius * sin(angle), y - radius * cos(angle)
