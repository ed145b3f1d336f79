"""The part of a set-up's form about a wall that stands beside the sitters outdoors."""

from __future__ import annotations

from typing import Final

from django import forms

from planning.shoots.choices import WallOutdoors
from studio.forms import StudioForm, group, row, wide


class WallForm(StudioForm):
    """A wall outdoors: how light it is, where it stands, how large it is."""

    wall_tone = forms.ChoiceField(
        label="A wall outdoors",
        choices=[("", "None that counts"), *WallOutdoors.choices],
        required=False,
    )
    wall_distance_m = forms.FloatField(
        label="Wall to sitters, m", min_value=0.2, max_value=100, required=False
    )
    wall_bearing_deg = forms.FloatField(
        label="Wall beside the camera, degrees",
        min_value=-180,
        max_value=180,
        required=False,
        help_text="Seen from the sitters: camera right above 0, behind them 180.",
    )
    wall_width_m = forms.FloatField(
        label="Wide, m", min_value=0.2, max_value=200, required=False
    )
    wall_height_m = forms.FloatField(
        label="High, m", min_value=0.2, max_value=100, required=False
    )
    wall_in_sun = forms.BooleanField(
        label="The sun gets at it",
        required=False,
        help_text="It counts while the wall faces the sun.",
    )


WALL_USUAL: Final = (
    *("wall_tone", "wall_distance_m", "wall_bearing_deg"),
    *("wall_width_m", "wall_height_m", "wall_in_sun"),
)
"""Fields that take their usual value when left empty."""
WALL_GROUP: Final = group(
    "Wall outdoors",
    row(wide("wall_tone", 4), wide("wall_distance_m", 4), wide("wall_bearing_deg", 4)),
    row(wide("wall_width_m", 4), wide("wall_height_m", 4), wide("wall_in_sun", 4)),
)
