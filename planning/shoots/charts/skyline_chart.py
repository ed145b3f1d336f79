"""The sun's path along the skyline, as one sees it looking round the horizon."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta
from math import ceil

from planning.shoots.cautions import lost_words
from planning.shoots.charts.scale import clock_marks
from planning.shoots.daylight import Moment, minutes_between, turn_deg
from planning.shoots.planned import PlannedShoot, compass
from planning.sites.skyline import Stretch
from studio.scene.drawing import (
    Circle,
    Drawing,
    Line,
    Op,
    Pen,
    Point,
    Polygon,
    Polyline,
    Rect,
    Text,
    badge,
)
from studio.scene.widths import words_width


@dataclass(frozen=True, slots=True, kw_only=True)
class SkylineLook:
    """How large a skyline chart is."""

    width: float = 880.0
    height: float = 210.0
    type_size: float = 13.0
    narrow: bool = False


WIDE = SkylineLook()


def skyline_chart(shoot: PlannedShoot, look: SkylineLook = WIDE) -> Drawing:
    """Draw the sun's path on the day of a plan, above the skyline of its place."""
    chart = _Chart(shoot, look)
    ops: list[Op] = [*chart.grid(), *chart.land(), *chart.path(), *chart.set_ups()]
    ops += chart.lost()
    ops.append(
        Line(chart.left, chart.base, look.width - 1, chart.base, Pen("ink", 1.4))
    )
    return Drawing(
        width=look.width,
        height=look.height,
        ops=tuple(ops),
        title="Sun path along the skyline",
        description=chart.words(),
    )


class _Chart:
    def __init__(self, shoot: PlannedShoot, look: SkylineLook) -> None:
        self.shoot, self.look, self.size = shoot, look, look.type_size
        self.zone = shoot.light.where.zone
        self.left, self.base = 2.6 * self.size, look.height - 2.1 * self.size
        self.moments = [one for one in self._day() if one.altitude_deg >= 0.0]
        self.middle = 180.0 if shoot.light.where.latitude_deg >= 0 else 0.0
        turns = [turn_deg(one.azimuth_deg, self.middle) for one in self.moments]
        self.half = min(max([abs(turn) for turn in turns] + [60.0]) + 8.0, 180.0)
        highest = max([one.altitude_deg for one in self.moments] + [15.0])
        top = max(highest, shoot.light.horizon.top_deg)
        self.top_deg = min(ceil((top + 4.0) / 5.0) * 5.0, 95.0)

    def words(self) -> str:
        """Say what the chart shows."""
        lost = self.shoot.lost
        if lost is None:
            return "The sun does not set that day, or does not rise."
        behind = f" behind {lost.behind}" if lost.behind else ""
        return f"The sun is lost{behind} {lost_words(lost, self.zone)}."

    def _day(self) -> list[Moment]:
        noon = self.shoot.light.day.solar_noon
        half = timedelta(hours=12)
        times = minutes_between(noon - half, noon + half, timedelta(minutes=4))
        return self.shoot.light.moments(times)

    def x(self, azimuth_deg: float) -> float:
        """Return where an azimuth stands."""
        share = (turn_deg(azimuth_deg, self.middle) + self.half) / (2 * self.half)
        return self.left + share * (self.look.width - self.left - 1)

    def y(self, altitude_deg: float) -> float:
        """Return where an altitude stands."""
        return self.base - max(altitude_deg, 0.0) / self.top_deg * (self.base - 4)

    def _point(self, moment: Moment) -> Point:
        return self.x(moment.azimuth_deg), self.y(moment.altitude_deg)

    def grid(self) -> Iterator[Op]:
        width, size = self.look.width, self.size
        yield Rect(self.left, 4, width - self.left - 1, self.base - 4, fill="white")
        step = 10 if self.top_deg <= 45 else 20
        for altitude in range(0, int(self.top_deg) + 1, step):
            y = self.y(altitude)
            yield Line(self.left, y, width - 1, y, Pen("g300", 0.8))
            at = self.left - 0.45 * size
            yield Text(at, y + 0.35 * size, f"{altitude}°", size, "g700", "end")
        every = 45 if self.look.narrow or self.half > 150 else 15
        for azimuth in range(0, 360, every):
            if abs(turn_deg(azimuth, self.middle)) < self.half:
                yield from self._bearing(azimuth)

    def _bearing(self, azimuth: int) -> Iterator[Op]:
        big, x = azimuth % 45 == 0, self.x(azimuth)
        yield Line(
            x,
            self.base,
            x,
            self.base + (7 if big else 4),
            Pen("g700", 1.2 if big else 0.8),
        )
        if not big and azimuth % 30:
            return
        words = f"{compass(azimuth)} {azimuth}°" if big else f"{azimuth}°"
        room = 2.0 * self.size
        if self.left + room < x < self.look.width - room:
            yield Text(
                x,
                self.base + 1.5 * self.size,
                words,
                self.size,
                "ink" if big else "g700",
                "middle",
                700 if big else 400,
            )

    def land(self) -> Iterator[Op]:
        horizon = self.shoot.light.horizon
        first = self.middle - self.half
        steps = int(2 * self.half)
        heights = [
            (first + step, max(horizon.height_at((first + step) % 360.0), 0.4))
            for step in range(steps + 1)
        ]
        last_x = self.look.width - 1
        points = [
            (
                min(self.left + step / steps * (last_x - self.left), last_x),
                self.y(height),
            )
            for step, (_, height) in enumerate(heights)
        ]
        outline = ((self.left, self.base), *points, (last_x, self.base))
        yield Polygon(outline, fill="g300", pen=Pen("ink", 1.3))
        for stretch in horizon.stretches:
            yield from self._stretch_name(stretch)

    def _stretch_name(self, stretch: Stretch) -> Iterator[Op]:
        """Name a stretch where it begins: the sun goes down at the other end."""
        start = max(turn_deg(stretch.from_deg, self.middle), -self.half)
        pad = 0.7 * self.size
        first = self.x(self.middle + start) + pad
        end = self.x(self.middle + min(start + stretch.width_deg, self.half))
        wide = words_width(stretch.name, size=self.size, weight=600)
        if stretch.name and first + wide < max(end, first + 1) and start < self.half:
            y = self.base - 0.4 * self.size
            x = self._clear_of_badges(first, end - pad - wide, wide, y)
            yield Text(x, y, stretch.name, self.size, weight=600, halo="g300")

    def _clear_of_badges(
        self, first: float, last: float, wide: float, y: float
    ) -> float:
        """Return where a name of that width starts without a badge upon it."""
        radius = 1.2 * self.size
        low = [at for at, height in self._badges() if height > y - 2.0 * radius]
        afters = [at + radius + 1.0 for at in low]
        for x in (first, *sorted(afters), last):
            if first <= x <= max(last, first) and not any(
                x - radius < at < x + wide + radius for at in low
            ):
                return x
        return first

    def _badges(self) -> list[Point]:
        return [points[len(points) // 2] for _, points in self._set_up_paths()]

    def path(self) -> Iterator[Op]:
        for run in self._runs():
            yield Polyline(tuple(self._point(one) for one in run), Pen("ink", 1.6))
        if not self.moments:
            return
        step = 120 if self.look.narrow else 60
        first = self.moments[0].at.astimezone(self.zone)
        last = self.moments[-1].at.astimezone(self.zone)
        for moment in self.shoot.light.moments(clock_marks(first, last, step)):
            if moment.altitude_deg > 0:
                yield from self._hour(moment)

    def _hour(self, moment: Moment) -> Iterator[Op]:
        x, y = self._point(moment)
        yield Circle(x, y, 3, fill="ink")
        before = moment.at < self.shoot.starts_at - timedelta(minutes=30)
        if (before or not self.shoot.set_ups) and self.left + 2 * self.size < x:
            local = moment.at.astimezone(self.zone)
            words = f"{local.hour}:{local:%M}"
            yield Text(
                x,
                y - 0.75 * self.size,
                words,
                self.size,
                "g700",
                "middle",
                halo="white",
            )

    def _runs(self) -> list[list[Moment]]:
        runs: list[list[Moment]] = [[]]
        for moment in self.moments:
            run = runs[-1]
            if (
                run
                and abs(self.x(moment.azimuth_deg) - self.x(run[-1].azimuth_deg)) > 90
            ):
                runs.append([])
            runs[-1].append(moment)
        return [run for run in runs if len(run) > 1]

    def set_ups(self) -> Iterator[Op]:
        for number, points in self._set_up_paths():
            yield Polyline(points, Pen("ink", 8.5))
            yield Polyline(points, Pen("sun", 5.0))
            x, y = points[len(points) // 2]
            yield from badge(x, y, str(number), radius=0.82 * self.size)

    def _set_up_paths(self) -> Iterator[tuple[int, tuple[Point, ...]]]:
        """Give each set-up that has the sun up, with the sun's way through it."""
        for one in self.shoot.set_ups:
            start, end = one.facts.starts_at, one.facts.ends_at
            times = minutes_between(start, end, timedelta(minutes=2))
            up = [moment for moment in self.shoot.light.moments(times) if moment.is_up]
            if len(up) > 1:
                yield one.facts.number, tuple(self._point(moment) for moment in up)

    def lost(self) -> Iterator[Op]:
        lost = self.shoot.lost
        if lost is None or not lost.behind:
            return
        span = minutes_between(lost.earliest_at, lost.latest_at)
        moments = self.shoot.light.moments(span)
        points = tuple(self._point(one) for one in moments)
        if len(points) > 1:
            yield Polyline(points, Pen("ink", 6.0))
            yield Polyline(points, Pen("white", 3.2))
        x, y = points[-1]
        yield from self._lost_label(x, y, lost.latest_at)

    def _lost_label(self, x: float, y: float, at: datetime) -> Iterator[Op]:
        assert self.shoot.lost is not None  # noqa: S101 - `lost` has looked
        size = self.size
        right = x < self.look.width - 10 * size
        anchor_x = x + 1.9 * size if right else self.look.width - 2
        anchor = "start" if right else "end"
        top = max(y - 3.6 * size, 1.2 * size)
        yield Line(
            x, y - 4, x + 1.7 * size if right else x, top + 1.4 * size, Pen("ink", 1.1)
        )
        words = lost_words(self.shoot.lost, self.zone)
        about, _, span = words.partition(" ")
        for row, line in enumerate((f"sun lost {about}", span)):
            yield Text(
                anchor_x,
                top + row * 1.2 * size,
                line,
                size,
                anchor="start" if anchor == "start" else "end",
                weight=700,
                halo="white",
            )
