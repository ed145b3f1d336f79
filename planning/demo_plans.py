"""The demo's light plans, set-up by set-up. All of it is invented."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import datetime, timedelta
from typing import Any, Final

from jobs.bookings.models import Booking
from jobs.diary.daylight import Spot, events_on
from planning.light.sun import sun_position
from planning.shoots.choices import Light, Movement, Shade, Support

Rows = Mapping[str, Any]
SetUps = list[dict[str, Any]]


def evening(rows: Rows, booking: Booking) -> SetUps:
    """Return an evening: low sun, shade, against the light, and flash at dusk."""
    sunset = _sunset(booking)
    band: dict[str, Any] = {"people": 5, "camera": rows["kit.body_a"]}
    first, second, third, last = (
        sunset + timedelta(minutes=minutes) for minutes in (-115, -75, -40, 14)
    )
    return [
        band
        | {
            "name": "Winch, low sun",
            "note": "All five on the winch, sun from the side",
            "starts_at": first,
            "minutes": 30,
            "camera_heading_deg": (_sun(booking, first) + 110.0) % 360.0,
            "distance_m": 6.0,
            "depth_m": 0.8,
            "lens": rows["kit.long"],
            "focal_length_mm": 85.0,
        },
        band
        | {
            "name": "Net stores, in their shade",
            "note": "One by one against the doors, white board low",
            "starts_at": second,
            "minutes": 25,
            "people": 1,
            "light": Light.OPEN_SHADE,
            "shade": Shade.WALL,
            "shaded_from_at": second,
            "shaded_until_at": second + timedelta(minutes=25),
            "camera_heading_deg": 165.0,
            "distance_m": 2.2,
            "depth_m": 0.3,
            "lens": rows["kit.portrait"],
            "board": rows["kit.white"],
        },
        band
        | {
            "name": "Slip, sun behind them",
            "note": "Walking up the slip with their instruments",
            "starts_at": third,
            "minutes": 30,
            "camera_heading_deg": _sun(booking, third) % 360.0,
            "distance_m": 9.0,
            "depth_m": 1.2,
            "movement": Movement.WALKING,
            "lens": rows["kit.long"],
            "focal_length_mm": 135.0,
        },
        band
        | {
            "name": "Mole at dusk, flash",
            "note": (
                "Soft box from camera right, speedlight behind them to part them from "
                "the dark water; quarter warm gel on both"
            ),
            "starts_at": last,
            "minutes": 25,
            "light": Light.FLASH,
            "flash": rows["kit.flash"],
            "flash_distance_m": 2.6,
            "modifier": rows["kit.softbox"],
            "second_flash": rows["kit.speedlight"],
            "second_distance_m": 3.0,
            "second_bearing_deg": -140.0,
            "support": Support.TRIPOD,
            "camera_heading_deg": 40.0,
            "distance_m": 5.0,
            "depth_m": 0.6,
            "lens": rows["kit.zoom"],
            "focal_length_mm": 50.0,
        },
    ]


def author(rows: Rows, booking: Booking) -> SetUps:
    """Return an author's two set-ups: by a window, and by flash on a dark ground."""
    start = booking.starts_at
    sitter: dict[str, Any] = {
        "people": 1,
        "depth_m": 0.25,
        "distance_m": 2.0,
        "movement": Movement.STILL,
        "camera": rows["kit.body_a"],
        "lens": rows["kit.portrait"],
    }
    return [
        sitter
        | {
            "name": "North window, black board",
            "note": "Upright, space above the head for the title",
            "starts_at": start + timedelta(minutes=10),
            "minutes": 35,
            "light": Light.WINDOW,
            "camera_heading_deg": 250.0,
            "support": Support.TRIPOD,
            "board": rows["kit.black"],
        },
        sitter
        | {
            "name": "Dark ground, speedlight",
            "note": "From the left, close; the ground falls to black",
            "starts_at": start + timedelta(minutes=50),
            "minutes": 30,
            "light": Light.FLASH,
            "flash": rows["kit.speedlight"],
            "flash_distance_m": 1.4,
            "flash_bearing_deg": -60.0,
            "modifier_loss_stops": 1.0,
            "camera_heading_deg": 160.0,
        },
    ]


def newborn(rows: Rows, booking: Booking) -> SetUps:
    """Return a newborn's morning by the window: no flash, a white board opposite."""
    start = booking.starts_at
    by_window: dict[str, Any] = {
        "light": Light.WINDOW,
        "window": rows["window"],
        "camera": rows["kit.body_a"],
        "camera_heading_deg": 80.0,
        "board": rows["kit.white"],
        "board_bearing_deg": 90.0,
        "frames": 90,
    }
    return [
        by_window
        | {
            "name": "Asleep on the bean bag",
            "note": "Head to the window, board low opposite, the near eye sharp",
            "starts_at": start + timedelta(minutes=30),
            "minutes": 50,
            "people": 1,
            "movement": Movement.STILL,
            "facing_deg": 320.0,
            "window_distance_m": 1.2,
            "depth_m": 0.08,
            "distance_m": 1.4,
            "lens": rows["kit.portrait"],
            "board_distance_m": 0.7,
        },
        by_window
        | {
            "name": "In their arms",
            "note": "Both parents close to the glass, faces together over the child",
            "starts_at": start + timedelta(minutes=95),
            "minutes": 35,
            "people": 3,
            "facing_deg": 300.0,
            "window_distance_m": 1.4,
            "depth_m": 0.35,
            "distance_m": 2.4,
            "lens": rows["kit.zoom"],
            "focal_length_mm": 50.0,
            "board_distance_m": 1.0,
        },
    ]


def family(rows: Rows, booking: Booking) -> SetUps:
    """Return a late morning in a clearing: all of them, the small ones, a walk."""
    start = booking.starts_at
    theirs: dict[str, Any] = {
        "camera": rows["kit.body_a"],
        "lens": rows["kit.zoom"],
        "people": 6,
    }
    against = _sun(booking, start + timedelta(minutes=25)) + 20.0
    return [
        theirs
        | {
            "name": "Clearing, sun behind them",
            "note": "The groups from the list, the large ones first",
            "starts_at": start + timedelta(minutes=10),
            "minutes": 30,
            "camera_heading_deg": against % 360.0,
            "distance_m": 5.0,
            "depth_m": 1.0,
            "focal_length_mm": 50.0,
            "flash": rows["kit.speedlight"],
            "flash_purpose": "fill",
            "flash_distance_m": 4.0,
            "flash_bearing_deg": 15.0,
        },
        theirs
        | {
            "name": "On the rug, in the beeches’ shade",
            "note": "The boys with Gran, each child alone",
            "starts_at": start + timedelta(minutes=45),
            "minutes": 25,
            "people": 3,
            "movement": Movement.STILL,
            "light": Light.OPEN_SHADE,
            "camera_heading_deg": 80.0,
            "distance_m": 2.5,
            "depth_m": 0.4,
            "focal_length_mm": 60.0,
            "board": rows["kit.white"],
        },
    ]


def dusk(rows: Rows, booking: Booking) -> SetUps:
    """Return a choir on the quay: by sections in the last light, then all by flash."""
    sunset = _sunset(booking)
    singers: dict[str, Any] = {"camera": rows["kit.body_a"], "lens": rows["kit.zoom"]}
    return [
        singers
        | {
            "name": "By sections, last light",
            "note": "Six at a time in two rows on the harbour steps",
            "starts_at": sunset - timedelta(minutes=30),
            "minutes": 25,
            "people": 6,
            "camera_heading_deg": (_sun(booking, sunset) + 80.0) % 360.0,
            "distance_m": 5.0,
            "depth_m": 0.8,
            "focal_length_mm": 50.0,
        },
        singers
        | {
            "name": "All of them at dusk, two flashes",
            "note": (
                "Three rows on the steps; soft box high from camera left, speedlight "
                "from behind to part them from the water"
            ),
            "starts_at": sunset + timedelta(minutes=12),
            "minutes": 25,
            "people": 22,
            "light": Light.FLASH,
            "flash": rows["kit.flash"],
            "flash_distance_m": 7.0,
            "modifier": rows["kit.softbox"],
            "second_flash": rows["kit.speedlight"],
            "second_distance_m": 7.0,
            "second_bearing_deg": 140.0,
            "support": Support.TRIPOD,
            "camera_heading_deg": 40.0,
            "distance_m": 9.0,
            "depth_m": 1.6,
            "focal_length_mm": 35.0,
        },
    ]


PLANS: Final[Mapping[str, Callable[[Rows, Booking], SetUps]]] = {
    "brass": evening,
    "aldwinter": author,
    "tarrant": newborn,
    "fenwarren": family,
    "choir": dusk,
}


def _sunset(booking: Booking) -> datetime:
    place = booking.place
    spot = Spot(
        latitude_deg=place.latitude_deg,
        longitude_deg=place.longitude_deg,
        time_zone=place.time_zone,
    )
    sunset = events_on(spot, booking.local_start.date()).sunset or booking.ends_at
    return sunset.replace(minute=sunset.minute // 5 * 5, second=0, microsecond=0)


def _sun(booking: Booking, at: datetime) -> float:
    """Return where the sun stands then, in whole degrees."""
    sun = sun_position(
        latitude_deg=booking.place.latitude_deg,
        longitude_deg=booking.place.longitude_deg,
        at=at,
    )
    return float(round(sun.azimuth_deg))
