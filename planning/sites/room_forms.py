"""Forms of a room and of a window."""

from __future__ import annotations

from typing import Any

from django import forms

from planning.sites.interiors import Glazing, WallTone
from planning.sites.models import Room, Window
from studio.forms import HeadingField, StudioForm, row, wide


def _metres(label: str, least: float, most: float, **more: Any) -> forms.FloatField:
    return forms.FloatField(label=label, min_value=least, max_value=most, **more)


class RoomForm(StudioForm):
    """A room's size and how light it is decorated."""

    name = forms.CharField(max_length=120)
    length_m = _metres("Length, m", 1, 100)
    width_m = _metres("Width, m", 1, 100)
    height_m = _metres("Height, m", 1.5, 30, initial=2.4)
    walls = forms.ChoiceField(label="Decorated", choices=WallTone.choices)

    layout = (
        "name",
        row(wide("length_m", 4), wide("width_m", 4), wide("height_m", 4)),
        "walls",
    )


class WindowForm(StudioForm):
    """A window: its glass, and what it looks at."""

    name = forms.CharField(max_length=120, help_text="North window, bay, roof light")
    width_m = _metres("Width of the glass, m", 0.1, 30)
    height_m = _metres("Height of the glass, m", 0.1, 20)
    sill_m = _metres("Sill above the floor, m", 0, 10, initial=0.9)
    facing = HeadingField(
        label="Looks out to",
        help_text="Degrees or a compass point: 350, NNW, 350 magnetic",
    )
    glazing = forms.ChoiceField(choices=Glazing.choices)
    obstruction_deg = forms.FloatField(
        label="What stands opposite reaches, degrees",
        min_value=0,
        max_value=89,
        initial=0,
        help_text="Seen from the window. Open sky: 0; houses opposite: about 25.",
    )
    has_curtain = forms.BooleanField(label="A net curtain is drawn", required=False)

    layout = (
        "name",
        row(wide("width_m", 4), wide("height_m", 4), wide("sill_m", 4)),
        row(wide("facing", 6), wide("obstruction_deg", 6)),
        "glazing",
        "has_curtain",
    )

    def __init__(
        self, *args: Any, declination_deg: float | None, **kwargs: Any
    ) -> None:
        super().__init__(*args, **kwargs)
        self.declination_deg = declination_deg

    def clean_facing(self) -> float:
        """Return the direction from true north."""
        return float(self.cleaned_data["facing"].true_deg(self.declination_deg))

    def details(self) -> dict[str, Any]:
        """Return the window's fields as the operation takes them."""
        data = dict(self.cleaned_data)
        data["facing_deg"] = data.pop("facing")
        return data


def initial_of_room(room: Room) -> dict[str, Any]:
    """Return what the form shows of a room."""
    return {name: getattr(room, name) for name in RoomForm.base_fields}


def initial_of_window(window: Window) -> dict[str, Any]:
    """Return what the form shows of a window."""
    names = [name for name in WindowForm.base_fields if name != "facing"]
    initial = {name: getattr(window, name) for name in names}
    return initial | {"facing": window.facing_deg}
