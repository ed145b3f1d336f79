"""The phases of a day's light, and booked time in it, as plain data.

Every time is in minutes of the clock after midnight of the day shown; a block that
starts the evening before is negative, one that ends after midnight is over 1440.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import Enum
from itertools import pairwise
from math import ceil, floor

DAY_MINUTES = 1440.0


class DayPhase(Enum):
    """How light it is, by the sun's altitude; the value is what it is called."""

    DAY = "high sun"
    LOW_SUN = "low sun"
    CIVIL = "civil twilight"
    NAUTICAL = "nautical twilight"
    NIGHT = "night"


# From dark to light: the phase holds from this true altitude upwards. Common
# definitions of sunrise (-0.833 degrees) and twilights (-6, -12); 8 degrees is ours.
PHASE_FLOORS_DEG = (
    (-12.0, DayPhase.NAUTICAL),
    (-6.0, DayPhase.CIVIL),
    (-0.833, DayPhase.LOW_SUN),
    (8.0, DayPhase.DAY),
)


@dataclass(frozen=True, slots=True)
class PhaseStart:
    """A phase and the minute from which it holds."""

    minute: float
    phase: DayPhase


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """Booked time; `held` while nobody has confirmed it.

    `says` is what it is called in words where it is neither booked nor held.
    """

    start_minute: float
    end_minute: float
    label: str = ""
    held: bool = False
    says: str = ""

    def __post_init__(self) -> None:
        if not self.start_minute < self.end_minute:
            raise ValueError(f"{self.start_minute}-{self.end_minute} is no span")


@dataclass(frozen=True, slots=True, kw_only=True)
class DayPhases:
    """The phases of one day, earliest first, and the part of it that is shown.

    The first phase also holds before its start, the last one to the end, so a
    polar day or night is a single PhaseStart.
    """

    phases: tuple[PhaseStart, ...]
    first_minute: float = 0.0
    last_minute: float = DAY_MINUTES

    def __post_init__(self) -> None:
        minutes = [start.minute for start in self.phases]
        if not minutes or minutes != sorted(minutes):
            raise ValueError(f"phases out of order or missing: {minutes}")
        if not self.first_minute < self.last_minute:
            raise ValueError(f"{self.first_minute}-{self.last_minute} shows nothing")

    def shown(self) -> Iterator[tuple[float, float, DayPhase]]:
        """Return the spans of the shown part: start, end and phase of each."""
        starts = [min(self.first_minute, self.phases[0].minute)]
        starts += [start.minute for start in self.phases[1:]]
        ends = [*starts[1:], self.last_minute]
        for start, end, part in zip(starts, ends, self.phases, strict=True):
            left, right = max(start, self.first_minute), min(end, self.last_minute)
            if left < right:
                yield left, right, part.phase


def phase_at(altitude_deg: float) -> DayPhase:
    """Return the phase of the day for a true (airless) altitude of the sun."""
    found = DayPhase.NIGHT
    for floor_deg, phase in PHASE_FLOORS_DEG:
        if altitude_deg >= floor_deg:
            found = phase
    return found


def phases_from_altitudes(
    *, minutes: Sequence[float], altitudes_deg: Sequence[float]
) -> tuple[PhaseStart, ...]:
    """Return the phases of a day from samples of the sun's true altitude.

    Changes lie where the straight line between two samples crosses a phase's
    floor: ten-minute samples place them within seconds below 60 degrees of
    latitude. Raises ValueError for no samples or lengths that differ.
    """
    samples = list(zip(minutes, altitudes_deg, strict=True))
    if not samples:
        raise ValueError("no samples of altitude")
    starts = [PhaseStart(samples[0][0], phase_at(samples[0][1]))]
    for before, after in pairwise(samples):
        for minute, altitude_deg in _crossings(before, after):
            starts.append(PhaseStart(minute, phase_at(altitude_deg)))
    return tuple(starts)


def _crossings(
    before: tuple[float, float], after: tuple[float, float]
) -> list[tuple[float, float]]:
    (minute, low), (later, high) = before, after
    rising = high > low
    found = []
    for floor_deg, _ in PHASE_FLOORS_DEG:
        if (low >= floor_deg) != (high >= floor_deg):
            part = (floor_deg - low) / (high - low)
            within_deg = floor_deg if rising else floor_deg - 1e-9
            found.append((minute + part * (later - minute), within_deg))
    return sorted(found)


def window_for(
    phases: Sequence[PhaseStart], *, blocks: Sequence[Block] = ()
) -> tuple[float, float]:
    """Return the first and last minute worth showing, on whole hours.

    From before nautical dawn to after nautical dusk, at least 06:00 to 21:00, at
    most midnight to midnight, and further only where a block runs past midnight.
    Strips that stand in one column read best with one window for all of them.
    """
    edges = [360.0, 1260.0]
    for start, following in pairwise([*phases, None]):
        if start is None or start.phase is DayPhase.NIGHT:
            continue
        end = following.minute if following else DAY_MINUTES
        edges += [max(start.minute, 0.0), min(end, DAY_MINUTES)]
    edges += [block.start_minute for block in blocks]
    edges += [block.end_minute for block in blocks]
    return floor(min(edges) / 60) * 60.0, ceil(max(edges) / 60) * 60.0


def describe_day(
    day: DayPhases, *, blocks: Sequence[Block] = (), now_minute: float | None = None
) -> str:
    """Return in words what the strip shows, for those who cannot see it."""
    spans = list(day.shown())
    if len(spans) == 1:
        parts = [f"{spans[0][2].value} throughout"]
    else:
        parts = [f"{phase.value} to {clock(end)}" for _, end, phase in spans[:-1]]
        parts.append(f"then {spans[-1][2].value}")
    light = ", ".join(parts).capitalize() + "."
    booked = [
        f"{block.says or ('Held' if block.held else 'Booked')}"
        f" {clock(block.start_minute)} to"
        f" {clock(block.end_minute)}{f', {block.label}' if block.label else ''}."
        for block in blocks
    ]
    now = [f"It is {clock(now_minute)}."] if now_minute is not None else []
    return " ".join([light, *booked, *now])


def clock(minute: float) -> str:
    """Return the clock time of a minute of the day, as 09:05; it wraps at midnight."""
    whole = round(minute) % 1440
    return f"{whole // 60:02d}:{whole % 60:02d}"
