"""The part of a set-up's form about flash and board."""

from __future__ import annotations

from typing import Any, Final

from django import forms

from jobs.kits.models import KitCategory, KitItem
from planning.shoots.choices import (
    FlashMode,
    FlashPurpose,
    Metering,
    SecondPurpose,
    Surface,
    Trigger,
)
from studio.forms import StudioForm, group, row, wide


def kit_field(label: str | None = None) -> forms.ModelChoiceField[KitItem]:
    """Return a field for an item of one category; the form sets which."""
    return forms.ModelChoiceField(
        KitItem.objects.none(), label=label, required=False, empty_label="None chosen"
    )


def _metres(label: str, least: float = 0.1, *, help_text: str = "") -> forms.FloatField:
    return forms.FloatField(
        label=label,
        min_value=least,
        max_value=100,
        required=False,
        help_text=help_text,
    )


def _bearing(label: str, help_text: str = "") -> forms.FloatField:
    return forms.FloatField(
        label=label,
        min_value=-180,
        max_value=180,
        required=False,
        help_text=help_text,
    )


def _choice(label: str, choices: Any) -> forms.ChoiceField:
    return forms.ChoiceField(label=label, choices=choices, required=False)


class LightingForm(StudioForm):
    """Flashes, what they go through or off, their contrast, and the board."""

    flash = kit_field()
    flash_purpose = _choice("The flash is", FlashPurpose.choices)
    flash_mode = _choice("It reaches them", FlashMode.choices)
    flash_distance_m = _metres("Flash to sitters, m")
    flash_bearing_deg = _bearing(
        "Beside the camera, degrees", "To the right above 0, to the left below."
    )
    modifier = kit_field("Through or into")
    modifier_loss_stops = forms.FloatField(
        label="More loss, stops",
        min_value=0,
        max_value=8,
        required=False,
        help_text="Gels, grids, or a modifier that is not in your kit.",
    )
    bounce_surface = _choice("Bounced off", Surface.choices)
    bounce_to_m = _metres("Flash to there, m")
    bounce_on_m = _metres("From there to sitters, m")
    bounce_reflectance = forms.FloatField(
        label="It gives back, 0 to 1",
        min_value=0.01,
        max_value=1,
        required=False,
        help_text="Left empty: white ceiling 0.8, wall 0.7, board 0.85, hand 0.35.",
    )
    flash_from_lens_m = _metres(
        "Flash from the lens, m",
        0.02,
        help_text="Only for a flash on the camera: for red eyes and side shadows.",
    )
    metering = _choice("Power set by", Metering.choices)
    key_to_fill = forms.FloatField(
        label="Key to fill, wanted",
        min_value=0.25,
        max_value=64,
        required=False,
        help_text="Each light by itself: 2 is one stop. Left empty: the usual.",
    )
    frames_a_minute = forms.FloatField(
        label="Frames a minute, at most",
        min_value=0.1,
        max_value=1200,
        required=False,
        help_text="Left empty: frames over minutes.",
    )

    second_flash = kit_field("Second flash")
    second_purpose = _choice("It is", SecondPurpose.choices)
    second_trigger = _choice("Fired by", Trigger.choices)
    second_distance_m = _metres("Second flash to sitters, m")
    second_bearing_deg = _bearing("Second, beside the camera, degrees")
    second_modifier = kit_field("Second through or into")

    board = kit_field("Board or reflector")
    board_distance_m = _metres("Board to sitters, m")
    board_bearing_deg = _bearing("Board beside the camera, degrees")

    def clean(self) -> dict[str, Any]:
        """Check what lights ask of each other."""
        cleaned: dict[str, Any] = super().clean() or self.cleaned_data
        first, second = cleaned.get("flash"), cleaned.get("second_flash")
        if second and not first:
            self.add_error("second_flash", "Choose the first flash before a second.")
        elif second and second == first:
            self.add_error("second_flash", "This is the first flash already.")
        return cleaned


LIGHTING_KIT: Final = (
    ("flash", KitCategory.FLASH),
    ("modifier", KitCategory.MODIFIER),
    ("second_flash", KitCategory.FLASH),
    ("second_modifier", KitCategory.MODIFIER),
    ("board", KitCategory.BOARD),
)
"""Fields that name kit, and of which category."""
LIGHTING_MAY_BE_EMPTY: Final = (
    *("bounce_reflectance", "flash_from_lens_m", "key_to_fill", "frames_a_minute"),
)
LIGHTING_USUAL: Final = (
    *("flash_purpose", "flash_mode", "flash_distance_m", "flash_bearing_deg"),
    *("modifier_loss_stops", "bounce_surface", "bounce_to_m", "bounce_on_m"),
    *("metering", "second_purpose", "second_trigger", "second_distance_m"),
    *("second_bearing_deg", "board_distance_m", "board_bearing_deg"),
)
"""Fields that take their usual value when left empty."""
LIGHTING_GROUPS: Final = (
    group(
        "Flash",
        row(wide("flash", 4), wide("flash_purpose", 4), wide("flash_mode", 4)),
        row(
            wide("flash_distance_m", 4),
            wide("flash_bearing_deg", 4),
            wide("flash_from_lens_m", 4),
        ),
        row(wide("modifier", 6), wide("modifier_loss_stops", 6)),
        row(wide("metering", 4), wide("key_to_fill", 4), wide("frames_a_minute", 4)),
    ),
    group(
        "If it is bounced",
        row(wide("bounce_surface", 6), wide("bounce_reflectance", 6)),
        row(wide("bounce_to_m", 6), wide("bounce_on_m", 6)),
    ),
    group(
        "Second flash",
        row(
            wide("second_flash", 4),
            wide("second_purpose", 4),
            wide("second_trigger", 4),
        ),
        row(
            wide("second_distance_m", 4),
            wide("second_bearing_deg", 4),
            wide("second_modifier", 4),
        ),
    ),
    group(
        "Board",
        row(
            wide("board", 4),
            wide("board_distance_m", 4),
            wide("board_bearing_deg", 4),
        ),
    ),
)
