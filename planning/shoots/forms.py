"""Forms of the light plan."""

from __future__ import annotations

from typing import Any
from zoneinfo import ZoneInfo

from django import forms

from jobs.bookings.models import Booking
from jobs.kits.models import KitCategory, KitItem
from planning.shoots.choices import (
    Aim,
    Light,
    Movement,
    Shade,
    SkyWord,
    Support,
)
from planning.shoots.instants import instant_in
from planning.shoots.lighting_form import (
    LIGHTING_GROUPS,
    LIGHTING_KIT,
    LIGHTING_MAY_BE_EMPTY,
    LIGHTING_USUAL,
    LightingForm,
    kit_field,
)
from planning.shoots.models import SetUp
from planning.shoots.wall_form import WALL_GROUP, WALL_USUAL, WallForm
from planning.sites.models import Site, Window
from studio.forms import Heading, HeadingField, TimeField, group, row, wide


class SkyForm(forms.Form):
    """Which sky is planned for."""

    sky = forms.ChoiceField(choices=SkyWord.choices)


class SetUpForm(WallForm, LightingForm):
    """One set-up: when, whose light, who, with what."""

    name = forms.CharField(max_length=120)
    start = TimeField(label="Start")
    minutes = forms.IntegerField(min_value=1, max_value=1440)
    frames = forms.IntegerField(
        label="Frames", min_value=0, max_value=20_000, initial=120
    )
    note = forms.CharField(
        label="What happens",
        required=False,
        max_length=400,
        widget=forms.Textarea(attrs={"rows": 2}),
    )

    light = forms.ChoiceField(label="Light comes from", choices=Light.choices)
    shade = forms.ChoiceField(label="What shades it", choices=Shade.choices)
    shaded_from = TimeField(label="Shaded from", required=False)
    shaded_until = TimeField(label="Shaded until", required=False)
    window_share_pct = forms.FloatField(
        label="Window’s share of the light outdoors, %",
        min_value=0.05,
        max_value=60,
        required=False,
        help_text="A metre and a half from a large window about 3; 3 m off about 1.",
    )

    window = forms.ModelChoiceField(
        Window.objects.none(),
        label="Window of this place",
        required=False,
        empty_label="None of them: use the share",
        help_text="Its light is worked out for the spot; the share is left aside.",
    )
    window_distance_m = forms.FloatField(
        label="Sitters from the glass, m", min_value=0.2, max_value=30, required=False
    )
    window_offset_m = forms.FloatField(
        label="Beside its middle, m",
        min_value=-30,
        max_value=30,
        required=False,
        help_text="As one looks out: to the right above 0, to the left below.",
    )

    heading = HeadingField(
        label="Camera looks to",
        help_text="Degrees or a compass point: 225, SW, 225 magnetic.",
    )
    facing = HeadingField(
        label="They look to", required=False, help_text="Left empty: at the camera."
    )
    people = forms.IntegerField(label="How many sitters", min_value=0, max_value=500)
    depth_m = forms.FloatField(
        label="Depth of the group, m", min_value=0, max_value=100
    )
    distance_m = forms.FloatField(
        label="Camera to sitters, m", min_value=0.1, max_value=500
    )
    movement = forms.ChoiceField(label="They are", choices=Movement.choices)

    camera = kit_field()
    lens = kit_field()
    focal_length_mm = forms.FloatField(
        label="Focal length, mm", min_value=1, max_value=2000
    )
    support = forms.ChoiceField(label="Camera on", choices=Support.choices)
    camera_upright = forms.BooleanField(label="Camera upright", required=False)
    aim = forms.ChoiceField(label="What matters most", choices=Aim.choices)

    layout = (
        row(wide("name", 6), wide("start", 2), wide("minutes", 2), wide("frames", 2)),
        "note",
        group(
            "People and place",
            row(
                wide("people", 3),
                wide("depth_m", 3),
                wide("movement", 3),
                wide("facing", 3),
            ),
            row(wide("light", 6), wide("shade", 6)),
            row(wide("shaded_from", 6), wide("shaded_until", 6)),
        ),
        group(
            "Camera",
            row(wide("camera", 4), wide("lens", 4), wide("focal_length_mm", 4)),
            row(wide("distance_m", 4), wide("heading", 4), wide("support", 4)),
            row(wide("aim", 8), wide("camera_upright", 4)),
        ),
        *LIGHTING_GROUPS,
        WALL_GROUP,
        group(
            "Room",
            row(wide("window", 6), wide("window_share_pct", 6)),
            row(wide("window_distance_m", 6), wide("window_offset_m", 6)),
        ),
    )

    def __init__(self, *args: Any, booking: Booking, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.booking = booking
        window = self.fields["window"]
        if isinstance(window, forms.ModelChoiceField):
            rooms = Window.objects.select_related("room")
            window.queryset = rooms.filter(room__place_id=booking.place_id)
        kit = KitItem.objects.in_use()
        for name, category in (
            ("camera", KitCategory.CAMERA),
            ("lens", KitCategory.LENS),
            *LIGHTING_KIT,
        ):
            field = self.fields[name]
            if isinstance(field, forms.ModelChoiceField):
                field.queryset = kit.of(category)

    def clean_heading(self) -> float:
        """Return where the camera looks, from true north."""
        return self._true(self.cleaned_data["heading"])

    def clean_facing(self) -> float | None:
        """Return where they look, from true north; None: at the camera."""
        heading = self.cleaned_data["facing"]
        return None if heading is None else self._true(heading)

    def _true(self, heading: Heading) -> float:
        """Return a direction from true north; the place’s declination turns it."""
        site = None
        if heading.is_magnetic:
            site = Site.objects.filter(place_id=self.booking.place_id).first()
        return heading.true_deg(site.declination_deg if site else None)

    def clean(self) -> dict[str, Any]:
        """Check what depends on two answers at once."""
        cleaned: dict[str, Any] = super().clean() or self.cleaned_data
        depth, distance = cleaned.get("depth_m"), cleaned.get("distance_m")
        if depth is not None and distance is not None and depth >= 2 * distance:
            self.add_error("depth_m", "The group would reach behind the camera.")
        if cleaned.get("light") == Light.FLASH and not cleaned.get("flash"):
            self.add_error("flash", "Choose the flash that lights this set-up.")
        lens, focal = cleaned.get("lens"), cleaned.get("focal_length_mm")
        if lens and focal and lens.focal_length_mm:
            longest = lens.longest_focal_length_mm or lens.focal_length_mm
            if not lens.focal_length_mm - 0.5 <= focal <= longest + 0.5:
                self.add_error(
                    "focal_length_mm",
                    f"{lens} has {lens.focal_length_mm:g} to {longest:g} mm."
                    if longest != lens.focal_length_mm
                    else f"{lens} has {longest:g} mm.",
                )
        return cleaned

    def details(self) -> dict[str, Any]:
        """Return the set-up's fields as the operation takes them."""
        data, usual = self.cleaned_data, SetUp()
        details = {
            name: data[name]
            for name in (
                "name",
                "minutes",
                "frames",
                "note",
                "light",
                "shade",
                "people",
                "depth_m",
                "distance_m",
                "movement",
                "camera",
                "lens",
                "focal_length_mm",
                "support",
                "aim",
                *(field for field, _ in LIGHTING_KIT),
                *LIGHTING_MAY_BE_EMPTY,
                "camera_upright",
                "window",
            )
        }
        for name in (
            "window_share_pct",
            "window_distance_m",
            "window_offset_m",
            *LIGHTING_USUAL,
            *WALL_USUAL,
        ):
            given = data[name]
            details[name] = getattr(usual, name) if given in (None, "") else given
        details["camera_heading_deg"] = data["heading"]
        details["facing_deg"] = data["facing"]
        details["starts_at"] = instant_in(self.booking, data["start"])
        for field, name in (
            ("shaded_from", "shaded_from_at"),
            ("shaded_until", "shaded_until_at"),
        ):
            clock = data[field]
            details[name] = instant_in(self.booking, clock) if clock else None
        return details


def initial_of(set_up: SetUp, zone: ZoneInfo) -> dict[str, Any]:
    """Return what the form shows of a set-up that exists."""
    initial = {
        name: getattr(set_up, name)
        for name in SetUpForm.base_fields
        if hasattr(set_up, name)
    }
    initial["start"] = set_up.starts_at.astimezone(zone).time()
    initial["heading"] = set_up.camera_heading_deg
    initial["facing"] = set_up.facing_deg
    for field, at in (
        ("shaded_from", set_up.shaded_from_at),
        ("shaded_until", set_up.shaded_until_at),
    ):
        initial[field] = at.astimezone(zone).time() if at else None
    return initial
