"""What the parts of a light chart share: its size, its axes, its moments."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta

from planning.light.illuminance import Sky
from planning.shoots.charts.scale import Plot, clock_marks
from planning.shoots.daylight import minutes_between
from planning.shoots.planned import PlannedShoot
from studio.timespan import clock_words, comes_twice

LOWEST_EV, HIGHEST_EV = 2.0, 16.0
CLOSED_SKIES = (Sky.OVERCAST, Sky.HEAVY_OVERCAST)


@dataclass(frozen=True, slots=True, kw_only=True)
class ChartLook:
    """How large a light chart is, and how much it says; `chosen` numbers a set-up."""

    width: float = 880.0
    plot_height: float = 210.0
    type_size: float = 13.0
    narrow: bool = False
    dials: bool = True
    chosen: int = 0


class Frame:
    """A chart's plot, a little wider than the session, and the sun through it."""

    def __init__(self, shoot: PlannedShoot, look: ChartLook) -> None:
        self.shoot, self.look = shoot, look
        self.zone = shoot.light.where.zone
        self.size = size = look.type_size
        margin = timedelta(minutes=15)
        top = 2.15 * size
        self.plot = Plot(
            left=3.2 * size,
            right=look.width - (4.2 if look.narrow else 5.0) * size,
            top=top,
            base=top + look.plot_height,
            first=(shoot.starts_at - margin).astimezone(self.zone),
            last=(shoot.ends_at + margin).astimezone(self.zone),
            lowest=LOWEST_EV,
            highest=HIGHEST_EV,
        )
        self.lane = 3.5 * size if shoot.set_ups else 0.0
        self.lane_top = self.plot.base + 2.0 * size
        dials = 4.3 * size if look.dials else 0.0
        self.height = self.lane_top + self.lane + dials + 0.6 * size
        times = minutes_between(self.plot.first, self.plot.last, timedelta(minutes=2))
        self.moments = shoot.light.moments(times)

    @property
    def is_closed(self) -> bool:
        """Whether clouds hide the sun in the sky that is planned for."""
        return self.shoot.sky in CLOSED_SKIES

    @property
    def is_long(self) -> bool:
        """Whether the chart shows so much that its ends lie in the dark."""
        return self.plot.last - self.plot.first > timedelta(hours=9)

    @property
    def label_minutes(self) -> int:
        """How many minutes apart the clock's labels stand, so that none collide."""
        first, last = self.plot.first, self.plot.last
        named = any(comes_twice(at) for at in clock_marks(first, last, 30))
        return self.minutes_apart((6.0 if named else 3.6) * self.size)

    def minutes_apart(self, width: float) -> int:
        """Return how many minutes apart labels of a width stand without colliding."""
        room = (self.plot.right - self.plot.left) / width
        hours = (self.plot.last - self.plot.first) / timedelta(hours=1)
        for minutes in (30, 60, 120, 180, 360):
            if hours * 60 / minutes <= room:
                return minutes
        return 720

    def clock(self, at: datetime) -> str:
        """Return a time by the clock of the place."""
        return clock_words(at.astimezone(self.zone))
