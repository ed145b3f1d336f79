"""The figures that a category of kit has, what they may be, and how they read."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from jobs.kits.models import KitCategory, KitItem


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """One figure of an item: its name, unit and limits."""

    label: str
    least: float
    most: float
    before: str = ""
    after: str = ""
    is_whole: bool = False
    hint: str = ""


FIGURES: Final[dict[str, Figure]] = {
    "sensor_width_mm": Figure(
        label="Sensor width", least=4, most=80, after="mm", hint="36 for full frame"
    ),
    "sensor_height_mm": Figure(
        label="Sensor height", least=3, most=80, after="mm", hint="24 for full frame"
    ),
    "base_iso": Figure(label="Base ISO", least=25, most=6400, is_whole=True),
    "highest_iso": Figure(
        label="Highest ISO you deliver",
        least=100,
        most=3_276_800,
        is_whole=True,
        hint="Plans go no higher",
    ),
    "sync_denominator": Figure(
        label="Sync speed", least=30, most=4000, before="1/", after="s", is_whole=True
    ),
    "fastest_denominator": Figure(
        label="Fastest shutter",
        least=250,
        most=64_000,
        before="1/",
        after="s",
        is_whole=True,
    ),
    "frames_per_battery": Figure(
        label="Frames to a battery", least=1, most=20_000, is_whole=True
    ),
    "megabytes_per_frame": Figure(
        label="Size of a frame", least=1, most=2_000, after="MB", is_whole=True
    ),
    "focal_length_mm": Figure(
        label="Focal length",
        least=4,
        most=2_000,
        after="mm",
        hint="A zoom’s shorter end",
    ),
    "longest_focal_length_mm": Figure(
        label="Longer end", least=4, most=2_000, after="mm", hint="Empty for a prime"
    ),
    "widest_f_number": Figure(label="Widest aperture", least=0.7, most=16, before="f/"),
    "narrowest_f_number": Figure(
        label="Narrowest aperture", least=5.6, most=64, before="f/"
    ),
    "close_focus_m": Figure(
        label="Close focus", least=0.01, most=20, after="m", hint="From the sensor"
    ),
    "stabilisation_stops": Figure(
        label="Stabilisation", least=0, most=8, after="stops", hint="As you trust it"
    ),
    "guide_number_m": Figure(
        label="Guide number", least=1, most=500, after="m, ISO 100", hint="In metres"
    ),
    "recycle_s": Figure(
        label="Recycling at full power", least=0.05, most=60, after="s"
    ),
    "least_power_denominator": Figure(
        label="Least power", least=1, most=1024, before="1/", is_whole=True
    ),
    "power_steps_a_stop": Figure(
        label="Steps to a stop", least=1, most=10, is_whole=True, hint="Thirds: 3"
    ),
    "high_speed_entry_stops": Figure(
        label="High-speed sync takes at once",
        least=0,
        most=5,
        after="stops",
        hint="Empty if it has none. 1–2: common practice; test yours",
    ),
    "width_m": Figure(label="Width", least=0.05, most=10, after="m"),
    "height_m": Figure(label="Height", least=0.05, most=10, after="m"),
    "reflectance": Figure(
        label="Gives back",
        least=0,
        most=1,
        hint="As a share: white board 0.85, grey 0.18, black cloth 0.01",
    ),
    "loss_stops": Figure(label="Takes", least=0, most=16, after="stops"),
}

OF_CATEGORY: Final[dict[KitCategory, tuple[tuple[str, ...], ...]]] = {
    KitCategory.CAMERA: (
        ("sensor_width_mm", "sensor_height_mm"),
        ("base_iso", "highest_iso"),
        ("sync_denominator", "fastest_denominator"),
        ("frames_per_battery", "megabytes_per_frame"),
    ),
    KitCategory.LENS: (
        ("focal_length_mm", "longest_focal_length_mm"),
        ("widest_f_number", "narrowest_f_number"),
        ("close_focus_m", "stabilisation_stops"),
    ),
    KitCategory.FLASH: (
        ("guide_number_m", "recycle_s"),
        ("least_power_denominator", "power_steps_a_stop"),
        ("high_speed_entry_stops", "loss_stops"),
    ),
    KitCategory.BOARD: (("width_m", "height_m"), ("reflectance",)),
    KitCategory.MODIFIER: (("loss_stops",),),
    KitCategory.FILTER: (("loss_stops",),),
}
"""The figures of a category, in pairs that stand side by side."""

LOW_HIGH: Final = (
    ("base_iso", "highest_iso"),
    ("focal_length_mm", "longest_focal_length_mm"),
    ("widest_f_number", "narrowest_f_number"),
)


def names_of(category: KitCategory) -> tuple[str, ...]:
    """Return the names of a category's figures."""
    return tuple(name for pair in OF_CATEGORY.get(category, ()) for name in pair)


def plain(figure: float) -> str:
    """Return a figure without needless zeros: 85, 1.8, 12,800."""
    return f"{figure:,.0f}" if figure == round(figure) else f"{figure:,.3g}"


def limits_of(item: KitItem) -> str:
    """Return what an item can do, as plans use it: sync 1/200 s, ISO 100–12,800."""
    category = KitCategory(item.category)
    says = {
        KitCategory.CAMERA: _of_camera,
        KitCategory.LENS: _of_lens,
        KitCategory.FLASH: _of_flash,
    }.get(category, _of_other)
    return ", ".join(says(item))


def _of_camera(item: KitItem) -> Iterator[str]:
    if item.sensor_width_mm and item.sensor_height_mm:
        width, height = plain(item.sensor_width_mm), plain(item.sensor_height_mm)
        yield f"{width} × {height} mm"
    if item.sync_denominator:
        yield f"sync 1/{item.sync_denominator} s"
    if item.fastest_denominator:
        yield f"up to 1/{item.fastest_denominator} s"
    if item.highest_iso:
        base = f"{plain(item.base_iso)}–" if item.base_iso else "up to "
        yield f"ISO {base}{plain(item.highest_iso)}"


def _of_lens(item: KitItem) -> Iterator[str]:
    if item.focal_length_mm:
        longest = item.longest_focal_length_mm
        to = f"–{plain(longest)}" if longest else ""
        yield f"{plain(item.focal_length_mm)}{to} mm"
    if item.widest_f_number:
        yield f"widest f/{plain(item.widest_f_number)}"
    if item.close_focus_m:
        yield f"close focus {plain(item.close_focus_m)} m"
    if item.stabilisation_stops:
        yield f"stabilised, {plain(item.stabilisation_stops)} stops"


def _of_flash(item: KitItem) -> Iterator[str]:
    if item.real_guide_number_m:
        measured = ", measured" if item.measured_guide_number_m else ""
        yield f"guide number {plain(item.real_guide_number_m)} m at ISO 100{measured}"
    if item.recycle_s:
        yield f"recycles in {plain(item.recycle_s)} s"
    yield from _of_other(item)


def _of_other(item: KitItem) -> Iterator[str]:
    if item.width_m and item.height_m:
        yield f"{plain(item.width_m)} × {plain(item.height_m)} m"
    if item.reflectance is not None:
        yield f"gives back {item.reflectance:.0%}"
    if item.real_loss_stops:
        measured = ", measured" if item.measured_loss_stops is not None else ""
        yield f"takes {plain(item.real_loss_stops)} stops{measured}"
