"""How much daylight reaches the sitters of a set-up at one moment."""

from __future__ import annotations

from dataclasses import replace

from planning.light.illuminance import Sky
from planning.shifts.models import LightShift
from planning.shoots.choices import Light
from planning.shoots.daylight import Daylight, Level, Moment
from planning.shoots.models import SetUp
from planning.shoots.planned import PlannedSetUp, PlannedShoot, SetUpFacts
from planning.shoots.rooms import room_level


def level_on(
    facts: SetUpFacts, row: SetUp, moment: Moment, light: Daylight, sky: Sky
) -> Level:
    """Return the daylight on the sitters of a set-up at one moment."""
    if facts.light == Light.WINDOW and row.window is not None:
        return room_level(row, row.window, moment, light, sky)
    if facts.light == Light.WINDOW:
        return light.window_level(moment, sky, row.window_share_pct)
    if facts.light == Light.OPEN_SKY and not facts.is_shaded(moment.at):
        return light.face_level(moment, sky, facts.facing_deg)
    return light.shade_level(moment, sky)


def shifted(level: Level, shift: LightShift | None) -> Level:
    """Return a level moved by what a frame found; its bounds move with it."""
    if shift is None:
        return level
    return replace(
        level,
        lux=level.lux * 2.0**shift.stops,
        exposure_value=level.exposure_value + shift.stops,
    )


def level_at(shoot: PlannedShoot, one: PlannedSetUp, moment: Moment) -> Level:
    """Return the daylight on a planned set-up at any moment, its shift in it."""
    row = shoot.rows[one.facts.number - 1]
    return shifted(level_on(one.facts, row, moment, shoot.light, shoot.sky), one.shift)
