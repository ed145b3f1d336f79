"""What to dial in at each minute of a session, known before the network is gone."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from planning.light.solve import dialled
from planning.shoots.daylight import Moment
from planning.shoots.levels import level_at
from planning.shoots.planned import PlannedSetUp, PlannedShoot
from planning.shoots.requests import request_for

STEP = timedelta(minutes=5)
"""In the fastest dusk daylight falls a stop in so long, so a step is half a stop off
at most, where it is worked out for its middle."""
AROUND = timedelta(minutes=60)
MOST_STEPS = 288
"""A day; of a session that is longer only its first day has a table."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TimedSettings:
    """Settings that hold from one minute until the next of a table, or its end."""

    from_at: datetime
    f_number: str
    shutter: str
    iso: str
    fits: bool

    @property
    def line(self) -> str:
        """All three as one line: "f/2.8 1/250 s ISO 400"."""
        return f"{self.f_number} {self.shutter} {self.iso}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Through:
    """The settings of one set-up through a session, and when they end."""

    rows: tuple[TimedSettings, ...]
    until: datetime

    def at(self, moment: datetime) -> TimedSettings | None:
        """Return what holds at a moment; None outside the table."""
        if moment >= self.until:
            return None
        held = [one for one in self.rows if one.from_at <= moment]
        return held[-1] if held else None


def steps_of(shoot: PlannedShoot) -> list[Moment]:
    """Return the middles of the steps, from an hour before a session to an hour after.

    One call for all set-ups, since the sun is the same for each.
    """
    first = shoot.starts_at - AROUND
    count = -(-(shoot.ends_at + AROUND - first) // STEP)
    middles = [first + STEP * n + STEP / 2 for n in range(min(count, MOST_STEPS))]
    return shoot.light.moments(middles)


def settings_through(
    shoot: PlannedShoot, one: PlannedSetUp, steps: Sequence[Moment]
) -> Through:
    """Return what a set-up asks for at each step, a row where it changes.

    No rows where its figures do not fit together.
    """
    row = shoot.rows[one.facts.number - 1]
    rows: list[TimedSettings] = []
    for moment in steps:
        level = level_at(shoot, one, moment)
        try:
            found = dialled(request_for(row, level, level, one.fill))
        except ValueError:
            return Through(rows=(), until=steps[0].at)
        now = TimedSettings(
            from_at=moment.at - STEP / 2,
            f_number=found.f_number.nominal,
            shutter=found.shutter.nominal,
            iso=found.iso.nominal,
            fits=found.fits,
        )
        if not rows or _differs(now, rows[-1]):
            rows.append(now)
    return Through(rows=tuple(rows), until=steps[-1].at + STEP / 2)


def _differs(one: TimedSettings, other: TimedSettings) -> bool:
    return (one.line, one.fits) != (other.line, other.fits)
