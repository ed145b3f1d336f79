"""A light chart's curves, by the sky that is planned for, and where the sun is lost."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta

from planning.light.illuminance import Sky
from planning.shoots.cautions import lost_words
from planning.shoots.charts.frame import LOWEST_EV, Frame
from planning.shoots.daylight import Moment
from planning.shoots.evs import cloud_evs, shade_evs, sun_evs
from studio.scene.drawing import Hatch, Op, Pen, Polyline, Rect, Text

Curve = list[tuple[Moment, float]]
THICK, DASHED, DOTTED = (
    Pen("ink", 2.2),
    Pen("ink", 1.7, (7.0, 3.0)),
    Pen("g600", 1.3, (1.5, 3.5)),
)


class Curves:
    """Full sun, open shade and overcast; or the two closed skies."""

    def __init__(self, frame: Frame) -> None:
        self.frame = frame

    def ops(self) -> Iterator[Op]:
        """Give the curves, then the mark of the lost sun."""
        yield from self._closed_sky() if self.frame.is_closed else self._open_sky()
        yield from self._lost_mark()

    def _open_sky(self) -> Iterator[Op]:
        light, sky, size = self.frame.shoot.light, self.frame.shoot.sky, self.frame.size
        name = "clear" if sky is Sky.CLEAR else "broken cloud"
        moments = self.frame.moments
        shining = [one for one in moments if one.is_shining]
        cloud = list(zip(moments, cloud_evs(light, moments, Sky.OVERCAST), strict=True))
        shade = list(zip(moments, shade_evs(light, moments, sky), strict=True))
        sun = list(zip(shining, sun_evs(light, shining, sky), strict=True))
        yield from self._curve(cloud, DOTTED)
        yield from self._curve(shade, DASHED)
        yield from self._runs(sun, THICK)
        below, above = self._between(sun, shade)
        yield from self._name(sun, f"full sun, {name}", below, bold=True)
        yield from self._name(shade, f"open shade, {name}", above, bold=True)
        yield from self._name(cloud, "overcast", 1.5 * size, bold=False)

    def _between(self, sun: Curve, shade: Curve) -> tuple[float, float]:
        """Return how far below and above their curves full sun and shade are named,
        nearer to them where the two stand close."""
        plot, size = self.frame.plot, self.frame.size
        if sun and shade and plot.y(shade[0][1]) - plot.y(sun[0][1]) < 3.3 * size:
            return 1.15 * size, -0.35 * size
        return 1.35 * size, -0.6 * size

    def _closed_sky(self) -> Iterator[Op]:
        light, size = self.frame.shoot.light, self.frame.size
        both = (
            (Sky.OVERCAST, "overcast", -0.7 * size),
            (Sky.HEAVY_OVERCAST, "dark overcast", 1.5 * size),
        )
        for sky, words, shift in both:
            chosen = sky is self.frame.shoot.sky
            evs = cloud_evs(light, self.frame.moments, sky)
            curve = list(zip(self.frame.moments, evs, strict=True))
            yield from self._curve(curve, THICK if chosen else DOTTED)
            yield from self._name(curve, words, shift, bold=chosen)

    def _runs(self, curve: Curve, pen: Pen) -> Iterator[Op]:
        run: Curve = []
        for point in curve:
            if run and point[0].at - run[-1][0].at > timedelta(minutes=3):
                yield from self._curve(run, pen)
                run = []
            run.append(point)
        yield from self._curve(run, pen)

    def _curve(self, curve: Curve, pen: Pen) -> Iterator[Op]:
        shown = [
            (self.frame.plot.x(moment.at), self.frame.plot.y(value))
            for moment, value in curve
            if value >= LOWEST_EV
        ]
        if len(shown) > 1:
            yield Polyline(tuple(shown), pen)

    def _name(self, curve: Curve, words: str, dy: float, *, bold: bool) -> Iterator[Op]:
        if not curve:
            return
        moment, value = curve[0]
        x = self.frame.plot.x(moment.at) + 0.4 * self.frame.size
        if self.frame.is_long:
            moment, value = max(curve, key=lambda point: point[1])
            x = self.frame.plot.x(moment.at)
        if value < LOWEST_EV + 0.5:
            return
        yield Text(
            x,
            self.frame.plot.y(value) + dy,
            words.split(",", maxsplit=1)[0] if self.frame.look.narrow else words,
            self.frame.size,
            "ink" if bold else "g700",
            "middle" if self.frame.is_long else "start",
            700 if bold else 400,
            halo="white",
        )

    def _lost_mark(self) -> Iterator[Op]:
        lost, plot = self.frame.shoot.lost, self.frame.plot
        if lost is None or self.frame.is_closed or not plot.shows(lost.earliest_at):
            return
        left, right = plot.x(lost.earliest_at), plot.x(lost.latest_at)
        if not lost.is_sharp:
            height = plot.base - plot.top
            yield Rect(left, plot.top, right - left, height, hatch=Hatch.RISING)
        if self.frame.look.narrow or right > plot.right - 8 * self.frame.size:
            return
        judged = "skyline estimated" if lost.estimated else ""
        about, _, span = lost_words(lost, self.frame.zone).partition(" ")
        lines = [f"sun lost {about}", span, judged]
        y = plot.y(14.0)
        for row, words in enumerate(filter(None, lines)):
            yield Text(
                right + 0.5 * self.frame.size,
                y + 1.15 * row * self.frame.size,
                words,
                self.frame.size,
                weight=400 if words == judged else 700,
                halo="white",
            )
