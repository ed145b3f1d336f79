"""The demo's small kit, what all of it is worth, and what did not come back."""

from __future__ import annotations

from datetime import datetime
from typing import Any, Final

from jobs.demo_things import KIT
from jobs.kits.models import KitCategory, KitItem
from jobs.kits.operations import change_item
from jobs.returns.models import CameBack
from jobs.returns.operations import Back, tick_kit_back
from studio.demo import Scenery

RETURNED_ON: Final = -4
VALUED_ON: Final = -100

_POWER, _OTHER = KitCategory.POWER, KitCategory.OTHER
_SUPPORT, _MODIFIER = KitCategory.SUPPORT, KitCategory.MODIFIER

SMALL_KIT: Final[dict[str, tuple[str, KitCategory, str, str, int]]] = {
    "rain": ("Rain covers, pair", _OTHER, "Grey roller", "Shelf B2", 38),
    **{
        f"battery_{n}": (f"Camera battery {n}", _POWER, "Grey roller", "Charger", 62)
        for n in range(1, 9)
    },
    **{
        f"cells_{n}": (
            f"Cells for the speedlight, set {n}",
            _POWER,
            "Light case",
            "",
            16,
        )
        for n in range(1, 5)
    },
    **{
        f"clamp_{n}": (f"Spring clamp {n}", _SUPPORT, "Long bag", "Shelf C1", 7)
        for n in range(1, 5)
    },
    **{
        f"sandbag_{n}": (f"Sandbag {n}", _SUPPORT, "Van", "Shelf D1", 18)
        for n in range(1, 5)
    },
    "charger": ("Battery charger, double", _POWER, "Grey roller", "Shelf B1", 55),
    "reader": ("Card reader", _OTHER, "Grey roller", "Desk", 45),
    "grip": ("Battery grip", _OTHER, "Grey roller", "Shelf B1", 180),
    "cable": ("Tether cable, 5 m", _OTHER, "Grey roller", "Shelf B2", 40),
    "laptop": ("Laptop for the set", _OTHER, "Laptop sleeve", "Desk", 1450),
    "tray": ("Laptop tray", _SUPPORT, "Long bag", "Shelf C2", 85),
    "grey_card": ("Grey card", _OTHER, "Grey roller", "Shelf B2", 14),
    "meter": ("Light meter", _OTHER, "Light case", "Shelf B2", 290),
    "grid": ("Grid for the soft box", _MODIFIER, "Light case", "Shelf A3", 48),
    "paper": ("Paper roll, stone grey", _OTHER, "Van", "Rack", 70),
    "paper_bar": ("Cross bar for paper", _SUPPORT, "Long bag", "Rack", 95),
    "stool": ("Posing stool", _OTHER, "Van", "Studio floor", 75),
    "box": ("Apple box", _OTHER, "Van", "Studio floor", 45),
    "blanket": ("Blanket for the ground", _OTHER, "Van", "Shelf D2", 25),
    "first_aid": ("First-aid kit", _OTHER, "Van", "Shelf D2", 30),
    "lead": ("Mains lead, 10 m", _OTHER, "Van", "Shelf D1", 28),
    "umbrella": ("White umbrella, 110 cm", _MODIFIER, "Long bag", "Shelf A3", 34),
    "steamer": ("Clothes steamer", _OTHER, "Van", "Shelf D2", 40),
    "ladder": ("Step ladder, three treads", _SUPPORT, "Van", "Studio floor", 48),
    "fan": ("Fan for hair", _OTHER, "Van", "Shelf D1", 65),
    "mirror": ("Standing mirror", _OTHER, "Van", "Studio floor", 55),
    "tape": ("Cloth tape", _OTHER, "Long bag", "Shelf C1", 12),
}

WORTH: Final[dict[str, int]] = {
    "body_a": 2350,
    "body_b": 2350,
    "wide": 520,
    "zoom": 1890,
    "portrait": 560,
    "long": 2290,
    "flash": 1180,
    "speedlight": 410,
    "tripod": 340,
    "stand_a": 78,
    "stand_b": 52,
    "softbox": 165,
    "white": 60,
    "black": 55,
    "gels": 22,
    "nd": 110,
    "cards": 190,
}
_SHELVES: Final = {
    KitCategory.CAMERA: "Shelf A1",
    KitCategory.LENS: "Shelf A1",
    KitCategory.FLASH: "Shelf A2",
    KitCategory.SUPPORT: "Rack",
}
_SERVICED: Final = {"body_a": 12, "flash": -3, "body_b": 190}
"""When service is due, in days from today."""


def small_kit() -> dict[str, dict[str, Any]]:
    """Return the small things of the kit, ready to be added."""
    return {
        key: {
            "name": name,
            "category": category,
            "bag": bag,
            "shelf": shelf,
            "value_minor": value * 100,
            "currency": "GBP",
        }
        for key, (name, category, bag, shelf, value) in SMALL_KIT.items()
    }


def tell_of_kit(scenery: Scenery) -> None:
    """Write down what the kit is worth, and tick one session's kit back."""
    scenery.then(VALUED_ON, "16:00", lambda at: _value(scenery, at))
    scenery.then(RETURNED_ON, "09:10", lambda at: _tick_back(scenery, at))


def _value(scenery: Scenery, at: datetime) -> None:
    for number, key in enumerate(KIT, start=1):
        item: KitItem = scenery.rows[f"kit.{key}"]
        details: dict[str, Any] = {
            "serial": item.serial or f"NS-{number:04}",
            "shelf": _SHELVES.get(KitCategory(item.category), "Shelf A3"),
            "value_minor": WORTH[key] * 100,
            "currency": "GBP",
            "bought_on": scenery.moment(-1400 + 45 * number).date(),
        }
        if key in _SERVICED:
            details["service_due_on"] = scenery.moment(_SERVICED[key]).date()
        by = scenery.rows["maren"]
        change_item(item_id=item.pk, details=details, by=by, at=at)


def _tick_back(scenery: Scenery, at: datetime) -> None:
    booking, missing = scenery.rows["booking.tidehook"], scenery.rows["kit.rain"]
    taken = KitItem.objects.filter(reservations__booking=booking)
    backs = {item.pk: Back(CameBack.RETURNED) for item in taken}
    backs[missing.pk] = Back(CameBack.MISSING, "Last seen beside the oven")
    by = scenery.rows["jory"]
    tick_kit_back(booking_id=booking.pk, items=backs, by=by, at=at)
