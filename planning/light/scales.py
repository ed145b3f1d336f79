"""The stops that a camera can be set to: exact powers of two under rounded names.

A name alone is not enough: f/1.2 and f/13 stand on both the half-stop and the
third-stop scale for different values, 1/60 s is 1/64 s and 30 s is 32 s. So a stop
is known by its index on its scale, counted from f/1, 1 s or ISO 100.

Source of the names: ISO 517 (apertures), ISO 516 (shutter times), ISO 12232
(speeds), from memory, and the marks on common cameras.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field
from math import log2

from planning.light.guards import positive


@dataclass(frozen=True, slots=True, kw_only=True)
class Stop:
    """One setting of a camera: its place on the scale, its true value, its name."""

    index: int
    exact: float
    nominal: str

    @property
    def marked(self) -> float:
        """Return the number that the name says, in the unit of `exact`."""
        number = self.nominal.removeprefix("f/").removeprefix("ISO ").removesuffix(" s")
        over, slash, under = number.partition("/")
        return float(over) / float(under) if slash else float(over)


@dataclass(frozen=True, slots=True, kw_only=True)
class Scale:
    """The settings of one dial, in order of their index, in even steps.

    `stops_per_doubling` is negative where a higher index is a smaller value.
    """

    stops: tuple[Stop, ...]
    steps_per_doubling: int
    unit_value: float
    _first: int = field(init=False, repr=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "_first", self.stops[0].index)

    def nearest(self, value: float) -> Stop:
        """Return the setting fewest stops away from `value`, clamped at the ends."""
        positive(value=value)
        steps = self.steps_per_doubling * log2(value / self.unit_value)
        return self.at(round(steps))

    def at(self, index: int) -> Stop:
        """Return the setting with that index, clamped at the ends of the scale."""
        place = min(max(index - self._first, 0), len(self.stops) - 1)
        return self.stops[place]

    def within(self, *, lowest: float, highest: float) -> tuple[Stop, ...]:
        """Return the settings from `lowest` to `highest`, read by value or by name.

        A lens marked f/1.8 has the stop of that name though its exact value, 1.782,
        is a trifle wider, so either reading of a stop may lie inside. Empty if none.
        """
        positive(lowest=lowest, highest=highest)
        low, high = lowest * (1.0 - 1e-9), highest * (1.0 + 1e-9)
        return tuple(
            stop
            for stop in self.stops
            if max(stop.exact, stop.marked) >= low
            and min(stop.exact, stop.marked) <= high
        )


def _scale(
    *, names: Sequence[str], first: int, steps_per_doubling: int, unit_value: float
) -> Scale:
    stops = tuple(
        Stop(
            index=index,
            exact=unit_value * 2.0 ** (index / steps_per_doubling),
            nominal=name,
        )
        for index, name in enumerate(names, start=first)
    )
    return Scale(
        stops=stops, steps_per_doubling=steps_per_doubling, unit_value=unit_value
    )


def _apertures(names: str, *, per_stop: int) -> Scale:
    return _scale(
        names=[f"f/{name}" for name in names.split()],
        first=0,
        steps_per_doubling=2 * per_stop,
        unit_value=1.0,
    )


def _shutters(names: str, *, per_stop: int) -> Scale:
    return _scale(
        names=[f"{name} s" for name in names.split()],
        first=-5 * per_stop,
        steps_per_doubling=-per_stop,
        unit_value=1.0,
    )


def _speeds(names: str, *, per_stop: int) -> Scale:
    return _scale(
        names=[f"ISO {name}" for name in names.split()],
        first=-per_stop,
        steps_per_doubling=per_stop,
        unit_value=100.0,
    )


APERTURE_FULL = _apertures("1 1.4 2 2.8 4 5.6 8 11 16 22 32", per_stop=1)
APERTURE_HALVES = _apertures(
    "1 1.2 1.4 1.7 2 2.4 2.8 3.3 4 4.8 5.6 6.7 8 9.5 11 13 16 19 22 27 32", per_stop=2
)
APERTURE_THIRDS = _apertures(
    "1 1.1 1.2 1.4 1.6 1.8 2 2.2 2.5 2.8 3.2 3.5 4 4.5 5 5.6 6.3 7.1 8 9 10 "
    "11 13 14 16 18 20 22 25 29 32",
    per_stop=3,
)

SHUTTER_FULL = _shutters(
    "30 15 8 4 2 1 0.5 1/4 1/8 1/15 1/30 1/60 1/125 1/250 1/500 1/1000 1/2000 "
    "1/4000 1/8000",
    per_stop=1,
)
SHUTTER_HALVES = _shutters(
    "30 20 15 10 8 6 4 3 2 1.5 1 0.7 0.5 0.3 1/4 1/6 1/8 1/10 1/15 1/20 1/30 1/45 "
    "1/60 1/90 1/125 1/180 1/250 1/350 1/500 1/750 1/1000 1/1500 1/2000 1/3000 "
    "1/4000 1/6000 1/8000",
    per_stop=2,
)
SHUTTER_THIRDS = _shutters(
    "30 25 20 15 13 10 8 6 5 4 3.2 2.5 2 1.6 1.3 1 0.8 0.6 0.5 0.4 0.3 1/4 1/5 1/6 "
    "1/8 1/10 1/13 1/15 1/20 1/25 1/30 1/40 1/50 1/60 1/80 1/100 1/125 1/160 1/200 "
    "1/250 1/320 1/400 1/500 1/640 1/800 1/1000 1/1250 1/1600 1/2000 1/2500 1/3200 "
    "1/4000 1/5000 1/6400 1/8000",
    per_stop=3,
)

ISO_FULL = _speeds(
    "50 100 200 400 800 1600 3200 6400 12800 25600 51200 102400", per_stop=1
)
ISO_HALVES = _speeds(
    "50 70 100 140 200 280 400 560 800 1100 1600 2200 3200 4500 6400 9000 12800 18000 "
    "25600 36000 51200 72000 102400",
    per_stop=2,
)
ISO_THIRDS = _speeds(
    "50 64 80 100 125 160 200 250 320 400 500 640 800 1000 1250 1600 2000 2500 3200 "
    "4000 5000 6400 8000 10000 12800 16000 20000 25600 32000 40000 51200 64000 80000 "
    "102400",
    per_stop=3,
)
