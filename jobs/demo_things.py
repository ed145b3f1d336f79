"""The demo's places and kit. All of it is invented."""

from __future__ import annotations

from datetime import time
from typing import Any, Final

from jobs.kits.models import KitCategory
from jobs.places.operations import PlaceDetails

PLACES: Final = {
    "studio": PlaceDetails(
        name="The studio, Wrayhaven",
        latitude_deg=55.39,
        longitude_deg=-1.60,
        address="3 Netloft Yard\nWrayhaven ZZ9 3ZZ",
        is_room=True,
        meeting_point="the green door in the yard",
        access="Ring twice; the stairs are steep, a lift is on the yard side",
        parking="Two spaces in the yard, more on Quay Lane",
        power="Four sockets on two circuits",
    ),
    "harbour": PlaceDetails(
        name="Wrayhaven harbour, the old slip",
        latitude_deg=55.392,
        longitude_deg=-1.594,
        address="Quay Lane\nWrayhaven ZZ9 3ZY",
        meeting_point="the winch at the head of the slip",
        access="Open quay; the mole’s gate is locked by the harbour office",
        access_until=time(22),
        parking="On the hard above the slip, free after 14:00",
        rain_plan="The net loft, by its north window",
        power="None; batteries only",
        contact_name="Harbour office",
        contact_phone="01632 960170",
        notes="Seals on the slip in winter: keep 50 m off.",
    ),
    "beach": PlaceDetails(
        name="Long Sand, below the dunes",
        latitude_deg=55.405,
        longitude_deg=-1.601,
        address="Dune car park, Links Road\nWrayhaven ZZ9 4ZX",
        meeting_point="the noticeboard at the car park",
        access="Ten minutes on foot over soft sand; a barrow is in the hut",
        parking="Car park on Links Road, coins only",
        rain_plan="The studio, or a new date",
        contact_name="Links warden",
        contact_phone="01632 960171",
    ),
    "wood": PlaceDetails(
        name="Hollin Wood, the clearing",
        latitude_deg=55.37,
        longitude_deg=-1.69,
        address="Gate on Hollin Lane\nnear Wrayhaven ZZ9 6ZW",
        meeting_point="the gate",
        access="Level path, muddy after rain",
        parking="Four cars at the gate",
        rain_plan="The edge of the wood under the beeches",
    ),
}

_BODY: Final[dict[str, Any]] = {
    "category": KitCategory.CAMERA,
    "sensor_width_mm": 36.0,
    "sensor_height_mm": 24.0,
    "base_iso": 100,
    "highest_iso": 12_800,
    "sync_denominator": 200,
    "fastest_denominator": 8000,
    "frames_per_battery": 600,
    "megabytes_per_frame": 52,
    "bag": "Grey roller",
}
_FAST: Final[dict[str, Any]] = {
    "category": KitCategory.LENS,
    "narrowest_f_number": 16.0,
    "bag": "Grey roller",
}
_LIGHT: Final[dict[str, Any]] = {"category": KitCategory.FLASH, "bag": "Light case"}
_STAND: Final[dict[str, Any]] = {
    "category": KitCategory.SUPPORT,
    "bag": "Long bag",
}

KIT: Final[dict[str, dict[str, Any]]] = {
    "body_a": {"name": "Camera A", "serial": "0001", **_BODY},
    "body_b": {"name": "Camera B", "serial": "0002", **_BODY},
    "wide": {
        "name": "35 mm f/1.8",
        "focal_length_mm": 35.0,
        "widest_f_number": 1.8,
        "close_focus_m": 0.25,
        **_FAST,
    },
    "zoom": {
        "name": "24–70 mm f/2.8",
        "focal_length_mm": 24.0,
        "longest_focal_length_mm": 70.0,
        "widest_f_number": 2.8,
        "close_focus_m": 0.38,
        **_FAST,
    },
    "portrait": {
        "name": "85 mm f/1.8",
        "focal_length_mm": 85.0,
        "widest_f_number": 1.8,
        "close_focus_m": 0.8,
        **_FAST,
    },
    "long": {
        "name": "70–200 mm f/2.8",
        "focal_length_mm": 70.0,
        "longest_focal_length_mm": 200.0,
        "widest_f_number": 2.8,
        "close_focus_m": 1.2,
        "stabilisation_stops": 3.0,
        **_FAST,
    },
    "flash": {
        "name": "Battery flash, large",
        "guide_number_m": 58.0,
        "recycle_s": 1.2,
        "least_power_denominator": 256,
        "high_speed_entry_stops": 1.5,
        **_LIGHT,
    },
    "speedlight": {
        "name": "Speedlight",
        "guide_number_m": 36.0,
        "recycle_s": 2.0,
        "least_power_denominator": 128,
        **_LIGHT,
    },
    "tripod": {"name": "Tripod", **_STAND},
    "stand_a": {"name": "Light stand, air-cushioned", **_STAND},
    "stand_b": {"name": "Light stand, short", **_STAND},
    "softbox": {
        "name": "Soft box, 90 cm",
        "category": KitCategory.MODIFIER,
        "loss_stops": 1.3,
        "bag": "Light case",
    },
    "white": {
        "name": "White board, 1 × 2 m",
        "category": KitCategory.BOARD,
        "width_m": 1.0,
        "height_m": 2.0,
        "reflectance": 0.85,
        "bag": "Van",
    },
    "black": {
        "name": "Black board, 1 × 2 m",
        "category": KitCategory.BOARD,
        "width_m": 1.0,
        "height_m": 2.0,
        "reflectance": 0.02,
        "bag": "Van",
    },
    "gels": {
        "name": "Warm gels, ¼ and ½",
        "category": KitCategory.FILTER,
        "bag": "Light case",
    },
    "nd": {"name": "ND filter, 3 stops", "category": KitCategory.FILTER},
    "cards": {"name": "Cards, 4 × 128 GB", "category": KitCategory.POWER},
}

SETS: Final = {
    "Indoors, soft": ("zoom", "portrait", "flash", "softbox"),
    "Outdoors, light": ("body_a", "body_b", "zoom", "long", "white", "cards"),
}
ONE_OF: Final = {"Indoors, soft": (("body_a", "body_b"), ("stand_a", "stand_b"))}
"""Of each of these one goes: the first that is free."""
