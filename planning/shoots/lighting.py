"""The flashes and the board of a set-up, as the solver takes them."""

from __future__ import annotations

from math import cos, log2, radians, sin
from typing import Final

from jobs.kits.calibrating import guide_words, loss_words
from jobs.kits.models import KitItem
from planning.light.fill import board_fill_lux, rectangle_factor
from planning.light.solve import Flash, FlashMode, FlashPurpose
from planning.shoots.choices import Light, Metering, Surface, Trigger
from planning.shoots.models import SetUp
from planning.shoots.planned import LightingFacts

REFLECTANCE: Final = {  # white paint 0.8: old handbook tables; rest common practice
    Surface.CEILING: 0.8,
    Surface.WALL: 0.7,
    Surface.BOARD: 0.85,
    Surface.HAND: 0.35,
}
SPREAD_STOPS: Final = {  # common practice, no source: a hand or board keeps it together
    Surface.CEILING: 1.0,
    Surface.WALL: 1.0,
    Surface.BOARD: 0.5,
    Surface.HAND: 0.5,
}
KIT_FIELDS: Final = (
    *(
        "camera",
        "lens",
        "flash",
        "modifier",
        "second_flash",
        "second_modifier",
        "board",
    ),
)
"""The fields of a set-up that name kit."""
BOARD_REFLECTANCE: Final = 0.85  # white foam board 0.85 to 0.9: common practice
DIFFUSE_ON_BOARD: Final = 0.5
"""Soft light on a board beside the sitter, as a share of that on the face: common
practice, no source; the sitter stands in its way and it stands deeper in the room."""


DARK_BELOW: Final = 0.2
"""A board that reflects less takes light away: common practice, no source."""


def first_flash(set_up: SetUp) -> Flash | None:
    """Return the main flash of a set-up; None without one that can be reckoned."""
    item = set_up.flash
    if item is None or item.real_guide_number_m is None:
        return None
    purpose = FlashPurpose(set_up.flash_purpose)
    if set_up.light == Light.FLASH:
        purpose = FlashPurpose.KEY
    mode = FlashMode(set_up.flash_mode)
    surface = Surface(set_up.bounce_surface)
    wanted = None if _second_is_fill(set_up) else ratio_stops(set_up)
    return Flash(
        guide_number_m=item.real_guide_number_m,
        distance_m=path_m(set_up),
        lowest_power=_least_power(item),
        steps_a_stop=item.power_steps_a_stop or 3,
        loss_stops=set_up.modifier_loss_stops + _loss(set_up.modifier) + _loss(item),
        purpose=purpose,
        mode=mode,
        key_minus_fill_stops=wanted,
        bounce_reflectance=set_up.bounce_reflectance or REFLECTANCE[surface],
        bounce_spread_stops=SPREAD_STOPS[surface],
        entry_loss_stops=item.high_speed_entry_stops,
        full_power_recycle_s=item.recycle_s,
        separation_m=set_up.flash_from_lens_m,
    )


def second_flash(set_up: SetUp) -> Flash | None:
    """Return the second flash; None without one, or without a first."""
    item = set_up.second_flash
    if item is None or item.real_guide_number_m is None:
        return None
    if first_flash(set_up) is None:
        return None
    fired = Trigger(set_up.second_trigger)
    is_slave = fired == Trigger.SLAVE
    return Flash(
        guide_number_m=item.real_guide_number_m,
        distance_m=set_up.second_distance_m,
        lowest_power=_least_power(item),
        steps_a_stop=item.power_steps_a_stop or 3,
        loss_stops=_loss(set_up.second_modifier) + _loss(item),
        purpose=FlashPurpose(set_up.second_purpose),
        mode=FlashMode.SLAVE if is_slave else FlashMode.DIRECT,
        key_minus_fill_stops=ratio_stops(set_up) if _second_is_fill(set_up) else None,
        entry_loss_stops=item.high_speed_entry_stops
        if fired == Trigger.RADIO
        else None,
        full_power_recycle_s=item.recycle_s,
    )


def path_m(set_up: SetUp) -> float:
    """Return how far the light of the main flash travels: over the bounce, if any."""
    if set_up.flash_mode == FlashMode.BOUNCE:
        return set_up.bounce_to_m + set_up.bounce_on_m
    return set_up.flash_distance_m


def ratio_stops(set_up: SetUp) -> float | None:
    """Return the wanted contrast in stops, each light by itself; None: the usual."""
    return log2(set_up.key_to_fill) if set_up.key_to_fill else None


def board_share(set_up: SetUp, key_turn_deg: float | None) -> float | None:
    """Return what share of the key the board throws on the shadow side.

    None without a board of known size, and for a dark one, which takes light away.

    `key_turn_deg` is where the key stands from the camera's axis, right above 0; None
    for soft light from no one side. The board is turned half-way between the sitter
    and the key; the shadow cheek looks at the board.
    """
    board = set_up.board
    if board is None or is_dark(board) or not (board.width_m and board.height_m):
        return None
    reflectance = BOARD_REFLECTANCE if board.reflectance is None else board.reflectance
    turn = 0.0
    lit = DIFFUSE_ON_BOARD
    if key_turn_deg is not None:
        between = _between(key_turn_deg, set_up.board_bearing_deg)
        turn = (180.0 - between) / 2.0
        lit = max(cos(radians(turn)), 0.0)
    if lit < 1e-6:
        return 0.0
    factor = rectangle_factor(
        corners_m=_corners(
            board.width_m, board.height_m, set_up.board_distance_m, turn
        ),
        point_m=(0.0, 0.0, 0.0),
        normal=(0.0, 1.0, 0.0),
    )
    return board_fill_lux(board_lux=lit, reflectance=reflectance, factor=factor)


def is_dark(board: KitItem) -> bool:
    """Say whether a board is there to take light away, not to give it."""
    return board.reflectance is not None and board.reflectance < DARK_BELOW


def lighting_facts(set_up: SetUp) -> LightingFacts:
    """Return what pages and cautions say of a set-up's lights."""
    bounced = set_up.flash_mode == FlashMode.BOUNCE
    is_slave = set_up.flash_mode == FlashMode.SLAVE
    second_slave = set_up.second_flash and set_up.second_trigger == Trigger.SLAVE
    return LightingFacts(
        camera_upright=set_up.camera_upright,
        from_lens_m=set_up.flash_from_lens_m,
        path_m=path_m(set_up),
        bounced_off=Surface(set_up.bounce_surface).label.lower() if bounced else "",
        metering=Metering(set_up.metering),
        is_optical_slave=bool((set_up.flash and is_slave) or second_slave),
        pace=set_up.pace,
        second_name=_name(set_up.second_flash),
        second_distance_m=set_up.second_distance_m,
        second_bearing_deg=set_up.second_bearing_deg,
        modifier_name=_name(set_up.modifier),
        second_modifier_name=_name(set_up.second_modifier),
        board_distance_m=set_up.board_distance_m,
        board_bearing_deg=set_up.board_bearing_deg,
        board_size=_size(set_up.board),
        board_is_dark=set_up.board is not None and is_dark(set_up.board),
        measured=_measured(set_up),
    )


def _measured(set_up: SetUp) -> str:
    """Return what test frames found of a set-up's first flash and its modifier."""
    flash, modifier = set_up.flash, set_up.modifier
    found = (
        (flash, guide_words(flash) if flash else ""),
        (modifier, loss_words(modifier) if modifier else ""),
    )
    return "; ".join(f"{item}: {words}" for item, words in found if words)


def _name(item: KitItem | None) -> str:
    return item.name if item else ""


def _size(item: KitItem | None) -> str:
    if item is None or not (item.width_m and item.height_m):
        return ""
    return f"{item.width_m:g} × {item.height_m:g} m"


def _between(one_deg: float, other_deg: float) -> float:
    """Return the angle between two directions, 0 to 180."""
    return abs((one_deg - other_deg + 180.0) % 360.0 - 180.0)


def _corners(
    width_m: float, height_m: float, distance_m: float, turn_deg: float
) -> list[tuple[float, float, float]]:
    """Return a board's corners: its middle straight ahead, turned about the upright."""
    half_x = width_m / 2.0 * cos(radians(turn_deg))
    half_y = width_m / 2.0 * sin(radians(turn_deg))
    up = height_m / 2.0
    return [
        (-half_x, distance_m - half_y, -up),
        (half_x, distance_m + half_y, -up),
        (half_x, distance_m + half_y, up),
        (-half_x, distance_m - half_y, up),
    ]


def _second_is_fill(set_up: SetUp) -> bool:
    return set_up.second_flash_id is not None and set_up.second_purpose == "fill"


def _least_power(item: KitItem) -> float:
    return 1.0 / (item.least_power_denominator or 128)


def _loss(item: KitItem | None) -> float:
    return item.real_loss_stops if item else 0.0
