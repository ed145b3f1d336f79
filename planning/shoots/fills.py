"""From a set-up's row and its light to what fills the shadow side."""

from __future__ import annotations

from planning.light.illuminance import Sky
from planning.light.solve import FlashPurpose
from planning.shoots.choices import Light
from planning.shoots.daylight import Daylight, Moment, turn_deg
from planning.shoots.lighting import board_share, first_flash, is_dark
from planning.shoots.models import SetUp
from planning.shoots.planned import SetUpFacts
from planning.shoots.rooms import walls_share
from planning.shoots.shadows import MOST_SHARE, ShadowFill
from planning.shoots.surroundings import Sides, sides_of


def fill_of(
    row: SetUp, facts: SetUpFacts, moment: Moment, light: Daylight, sky: Sky
) -> ShadowFill:
    """Return what board, walls, sky and ground throw on the shadow side.

    Nothing is known of it beside a dark board, which keeps off what it does not give.
    """
    if row.board is not None and is_dark(row.board):
        return ShadowFill()
    flash = first_flash(row)
    if flash is not None and flash.purpose is FlashPurpose.KEY:
        return ShadowFill(board=board_share(row, row.flash_bearing_deg))
    walls = None
    if facts.light == Light.WINDOW and row.window is not None:
        walls = walls_share(row, row.window, moment, light, sky)
    board = board_share(row, _sun_bearing(facts, moment))
    sides = None if flash else sides_of(row, facts, moment, light, sky)
    if sides is None:
        return ShadowFill(board=board, walls=walls)
    return _outdoors(sides, board)


def _outdoors(sides: Sides, board: float | None) -> ShadowFill:
    """Return the fill of what is lit from all round.

    The lit side's light holds the fill too; shares are of what it has beyond that.
    """
    least = sides.shadow_lux / MOST_SHARE
    beyond = max(sides.lit_lux - sides.shadow_lux, least)
    thrown = None if board is None else board * (1.0 + sides.shadow_lux / beyond)
    return ShadowFill(
        board=thrown,
        around=(sides.shadow_lux - sides.wall_lux) / beyond,
        wall=sides.wall_lux / beyond if sides.wall_lux else None,
    )


def _sun_bearing(facts: SetUpFacts, moment: Moment) -> float | None:
    """Return where the sun lights the sitters from: 0 the camera's side, + right."""
    is_lit = facts.light == Light.OPEN_SKY and not facts.is_shaded(moment.at)
    if not (is_lit and moment.is_shining):
        return None
    turn = turn_deg(moment.azimuth_deg, facts.heading_deg)
    return 180.0 - turn if turn > 0 else -180.0 - turn
