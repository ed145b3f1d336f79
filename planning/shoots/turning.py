"""Turning what stands on a set-up's dial: the camera by the sun, anything by hand."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Final

from planning.shoots.daylight import turn_deg
from planning.shoots.planned import SetUpFacts, compass

SUN_TURNS: Final[Mapping[str, tuple[str, float]]] = {
    "sun_left": ("Sun left", -90.0),
    "sun_right": ("Sun right", 90.0),
    "sun_ahead": ("Sun ahead", 0.0),
    "sun_behind": ("Sun behind you", 180.0),
}
"""Where the sun is to stand from the camera's heading: clockwise, right above 0."""

HANDLE: Final = "to_"
"""What stands before a field's name where a handle of the dial sends it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Handle:
    """Something on the dial that can be turned, and the field that it sets.

    It stands at `base_deg` plus `sign` times its value, `share` of the radius out.
    """

    field: str
    label: str
    lowest: int
    highest: int
    value: float
    words: str
    base_deg: float
    sign: int
    share: float

    @property
    def name(self) -> str:
        """The name under which it sends its value."""
        return f"{HANDLE}{self.field}"

    @property
    def shown_value(self) -> int:
        """Its value in whole degrees."""
        return round(self.value)


def heading_for(turn: str, sun_azimuth_deg: float) -> float:
    """Return the heading that puts the sun where a turn wants it, in whole degrees."""
    _, stands = SUN_TURNS[turn]
    return round(sun_azimuth_deg - stands) % 360


def handles_of(facts: SetUpFacts) -> tuple[Handle, ...]:
    """Return what stands on a set-up's dial and can be turned."""
    behind = (facts.heading_deg + 180.0) % 360.0
    handles = [
        _direction("heading", "Camera looks to", facts.heading_deg, base=180.0),
        _direction("facing", "Sitters look to", facts.facing_deg, base=0.0),
    ]
    if facts.flash_name:
        handles.append(
            _beside("flash_bearing_deg", "Flash", facts.flash_bearing_deg, behind)
        )
    lights = facts.lighting
    if lights.second_name:
        second = lights.second_bearing_deg
        handles.append(_beside("second_bearing_deg", "Second flash", second, behind))
    if facts.board_name:
        board = _beside("board_bearing_deg", "Board", lights.board_bearing_deg, behind)
        handles.append(replace(board, share=0.46))
    return tuple(handles)


def _direction(field: str, label: str, azimuth_deg: float, *, base: float) -> Handle:
    azimuth = azimuth_deg % 360.0
    return Handle(
        field=field,
        label=label,
        lowest=0,
        highest=359,
        value=azimuth,
        words=f"{azimuth:.0f}° {compass(azimuth)}",
        base_deg=base,
        sign=1,
        share=0.6 if base else 0.25,
    )


def _beside(field: str, label: str, bearing_deg: float, behind_deg: float) -> Handle:
    bearing = turn_deg(bearing_deg, 0.0)
    side = "right" if bearing > 0 else "left"
    words = f"{abs(bearing):.0f}° camera {side}" if bearing else "at the camera"
    return Handle(
        field=field,
        label=label,
        lowest=-180,
        highest=180,
        value=bearing,
        words=words,
        base_deg=behind_deg,
        sign=-1,
        share=0.86,
    )
