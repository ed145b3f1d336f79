"""The whole horizon of a place, with the sun's paths of today and both solstices."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from math import ceil

from planning.shoots.daylight import Daylight, Moment, Where, minutes_between, turn_deg
from planning.shoots.planned import compass
from planning.sites.points import SkyPoint
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
)

STEP = timedelta(minutes=10)
WIDTH, HEIGHT, SIZE = 880.0, 300.0, 13.0
LEFT, TOP, RIGHT, BASE = 2.6 * SIZE, 6.0, WIDTH - 6.0, HEIGHT - 2.1 * SIZE


@dataclass(frozen=True, slots=True, kw_only=True)
class HorizonChart:
    """The drawing, and where its corners stand in degrees, for a script to read."""

    drawing: Drawing
    first_deg: float
    top_deg: float
    left: float = LEFT
    right: float = RIGHT
    top: float = TOP
    base: float = BASE


def horizon_chart(where: Where, on: date) -> HorizonChart:
    """Draw the skyline of a place all round, as it stands on a day.

    The middle of the drawing is where the sun is highest; 360 degrees about it.
    """
    paths = _Paths(where, on)
    chart = _Chart(paths)
    return HorizonChart(
        drawing=Drawing(
            width=WIDTH,
            height=HEIGHT,
            ops=(*chart.grid(), *chart.suns(), *chart.land(), *chart.points()),
            title="Skyline all round",
            description=(
                "The sun’s paths of today and of both solstices, behind the skyline."
            ),
        ),
        first_deg=(chart.middle - 180.0) % 360.0,
        top_deg=chart.top_deg,
    )


class _Paths:
    """The sun above the horizon on three days, and the skyline of the first."""

    def __init__(self, where: Where, on: date) -> None:
        self.where = where
        days = [on, date(on.year, 6, 21), date(on.year, 12, 21)]
        self.suns = [self._sun(day) for day in days]
        midday = self._noon(on)
        light = Daylight(where, midday, midday)
        self.horizon = light.horizon

    def _noon(self, on: date) -> datetime:
        return datetime(on.year, on.month, on.day, 12, tzinfo=self.where.zone)

    def _sun(self, on: date) -> list[Moment]:
        noon = self._noon(on).astimezone(UTC)
        half = timedelta(hours=12)
        light = Daylight(self.where, noon, noon)
        times = minutes_between(noon - half, noon + half, STEP)
        return [one for one in light.moments(times) if one.altitude_deg >= 0.0]

    @property
    def highest_deg(self) -> float:
        """The highest of sun and skyline."""
        suns = [one.altitude_deg for run in self.suns for one in run]
        return max([*suns, self.horizon.top_deg, 15.0])


class _Chart:
    def __init__(self, paths: _Paths) -> None:
        self.paths = paths
        self.middle = 180.0 if paths.where.latitude_deg >= 0 else 0.0
        self.top_deg = min(ceil((paths.highest_deg + 4.0) / 5.0) * 5.0, 90.0)

    def x(self, azimuth_deg: float) -> float:
        """Return where an azimuth stands."""
        share = (turn_deg(azimuth_deg, self.middle) + 180.0) / 360.0
        return LEFT + share * (RIGHT - LEFT)

    def y(self, height_deg: float) -> float:
        """Return where a height stands."""
        share = min(max(height_deg, 0.0) / self.top_deg, 1.0)
        return BASE - share * (BASE - TOP)

    def grid(self) -> Iterator[Op]:
        """Give the frame, a line every ten degrees, the points of the compass."""
        yield Rect(LEFT, TOP, RIGHT - LEFT, BASE - TOP, fill="white")
        for height in range(0, int(self.top_deg) + 1, 10):
            y = self.y(height)
            yield Line(LEFT, y, RIGHT, y, Pen("g300", 0.8))
            yield Text(LEFT - 6, y + 0.35 * SIZE, f"{height}°", SIZE, "g700", "end")
        for azimuth in range(0, 360, 45):
            x = self.x(azimuth)
            yield Line(x, BASE, x, BASE + 7, Pen("g700", 1.2))
            if LEFT + 2 * SIZE < x < RIGHT - 2 * SIZE:
                words = f"{compass(azimuth)} {azimuth}°"
                yield Text(x, BASE + 1.6 * SIZE, words, SIZE, "ink", "middle")

    def suns(self) -> Iterator[Op]:
        """Give the sun's paths: today's in ink, those of the solstices dashed."""
        names = ("today", "21 June", "21 December")
        for number, run in enumerate(self.paths.suns):
            pen = Pen("g600", 1.0, (4.0, 3.0)) if number else Pen("ink", 1.6)
            for piece in self._pieces(run):
                yield Polyline(tuple(piece), pen)
            if number and run:
                top = max(run, key=lambda one: one.altitude_deg)
                peak = self.y(top.altitude_deg)
                is_lower = top.altitude_deg < self.paths.highest_deg / 2.0
                at = peak + 1.2 * SIZE if is_lower else peak - 0.5 * SIZE
                at = max(at, TOP + SIZE)
                x = self.x(top.azimuth_deg)
                yield Text(x, at, names[number], SIZE, "g700", "middle", halo="white")

    def _pieces(self, run: list[Moment]) -> list[list[Point]]:
        """Return a path in pieces, broken where it leaves the drawing's side."""
        pieces: list[list[Point]] = [[]]
        for one in run:
            at = self.x(one.azimuth_deg), self.y(one.altitude_deg)
            if pieces[-1] and abs(at[0] - pieces[-1][-1][0]) > (RIGHT - LEFT) / 4:
                pieces.append([])
            pieces[-1].append(at)
        return [piece for piece in pieces if len(piece) > 1]

    def land(self) -> Iterator[Op]:
        """Give the skyline as a filled outline, a degree at a time."""
        horizon = self.paths.horizon
        outline: list[Point] = [(LEFT, BASE)]
        for step in range(361):
            azimuth = (self.middle - 180.0 + step) % 360.0
            x = LEFT + step / 360.0 * (RIGHT - LEFT)
            outline.append((x, self.y(max(horizon.height_at(azimuth), 0.4))))
        yield Polygon((*outline, (RIGHT, BASE)), fill="g300", pen=Pen("ink", 1.3))

    def points(self) -> Iterator[Op]:
        """Give each point of the line as a dot, open where it is only guessed."""
        for one in self.paths.where.profile:
            yield self._dot(one)

    def _dot(self, point: SkyPoint) -> Op:
        x, y = self.x(point.azimuth_deg), self.y(point.height_deg)
        fill = "ink" if point.measured else "white"
        return Circle(x, y, 4.0, fill=fill, pen=Pen("ink", 1.4))
