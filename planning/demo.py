"""The demo's share of planning: skylines, two light plans, ticks and a call sheet."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import Any, Final

from jobs.bookings.models import Booking
from jobs.diary.daylight import Spot, events_on
from planning.callsheets.operations import make_call_sheet, send_call_sheet
from planning.checklists.models import Section
from planning.checklists.operations import add_own_item, refresh_checklist, tick_item
from planning.light.sun import sun_position
from planning.patterns.models import Anchor
from planning.patterns.operations import keep_set_up
from planning.shoots.choices import Light, Movement, Shade, Support
from planning.shoots.operations import add_set_up, start_plan
from planning.shoots.queries import planned_shoot
from planning.sites.grounds import REFLECTANCES, Ground
from planning.sites.operations import SiteDetails, keep_site
from planning.sites.skyline import SkyPoint, Stretch
from planning.weather.operations import note_weather
from studio.demo import Scenery, demo_share

SKYLINES: Final = {
    "harbour": (
        Stretch(from_deg=150, to_deg=196, height_deg=9.0, name="net stores"),
        Stretch(from_deg=222, to_deg=268, height_deg=3.5, name="town roofs"),
        Stretch(from_deg=285, to_deg=330, height_deg=5.0, name="castle hill"),
    ),
    "beach": (
        Stretch(from_deg=215, to_deg=340, height_deg=7.0, name="dunes"),
        Stretch(
            from_deg=168,
            to_deg=190,
            height_deg=15.0,
            name="sycamores",
            leaf_from="04-25",
            leaf_to="11-05",
        ),
    ),
    "wood": (
        Stretch(from_deg=20, to_deg=150, height_deg=28.0, name="beeches"),
        Stretch(from_deg=200, to_deg=340, height_deg=22.0, name="oaks"),
    ),
}
PROFILES: Final = {
    "beach": tuple(
        SkyPoint(azimuth_deg=azimuth, height_deg=height)
        for azimuth, height in ((80, 0.5), (105, 2.0), (128, 4.5), (150, 2.5), (166, 0))
    ),
}
GROUNDS: Final = {"beach": Ground.SAND, "harbour": Ground.CONCRETE}
TICKED: Final = 9


@demo_share
def planning_share(scenery: Scenery) -> None:
    """Tell of skylines, plans and papers; hands on `plan.KEY`."""
    scenery.then(-118, "11:00", lambda at: _look_round(scenery, at))
    scenery.then(-4, "15:00", lambda at: _plan_brass(scenery, at))
    scenery.then(-3, "15:30", lambda at: _plan_author(scenery, at))
    scenery.then(-2, "17:20", lambda at: _keep_for_later(scenery, at))
    scenery.then(-1, "16:00", lambda at: _pack(scenery, at))
    scenery.then(-1, "17:50", lambda at: _read_weather(scenery, at))
    scenery.then(-1, "18:10", lambda at: _print_sheet(scenery, at))


def _look_round(scenery: Scenery, at: datetime) -> None:
    for key, skyline in SKYLINES.items():
        keep_site(
            place=scenery.rows[f"place.{key}"],
            details=SiteDetails(
                skyline=skyline,
                profile=PROFILES.get(key, ()),
                estimated=key != "harbour",
                ground=(ground := GROUNDS.get(key, Ground.GRASS)),
                ground_reflectance=REFLECTANCES[ground],
                declination_deg=0.4,
            ),
            by=scenery.rows["jory"],
            at=at,
        )


def _read_weather(scenery: Scenery, at: datetime) -> None:
    """Note what the evening's forecast says of the first session."""
    booking: Booking = scenery.rows["booking.brass"]
    details = {
        "read_in": "Harbour office, the evening’s forecast",
        "for_at": booking.starts_at,
        "cloud_oktas": 2,
        "wind_ms": 6.0,
        "gust_ms": 7.5,
        "rain_mm_h": 0.0,
        "temperature_c": 14.0,
        "uv_index": 2.0,
    }
    note_weather(booking=booking, details=details, by=scenery.rows["jory"], at=at)


def _plan_brass(scenery: Scenery, at: datetime) -> None:
    """Plan an evening in four set-ups: sun, shade, against the light, flash at dusk."""
    booking: Booking = scenery.rows["booking.brass"]
    sunset = _sunset(booking)
    _add_plan(scenery, "brass", _evening(scenery, booking, sunset), at)


def _evening(
    scenery: Scenery, booking: Booking, sunset: datetime
) -> list[dict[str, Any]]:
    rows = scenery.rows
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


def _plan_author(scenery: Scenery, at: datetime) -> None:
    rows, booking = scenery.rows, scenery.rows["booking.aldwinter"]
    start = booking.starts_at
    sitter: dict[str, Any] = {
        "people": 1,
        "depth_m": 0.25,
        "distance_m": 2.0,
        "movement": Movement.STILL,
        "camera": rows["kit.body_a"],
        "lens": rows["kit.portrait"],
    }
    set_ups = [
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
    _add_plan(scenery, "aldwinter", set_ups, at)


def _add_plan(
    scenery: Scenery, key: str, set_ups: list[dict[str, Any]], at: datetime
) -> None:
    jory, booking = scenery.rows["jory"], scenery.rows[f"booking.{key}"]
    plan = start_plan(booking=booking, by=jory, at=at)
    for details in set_ups:
        add_set_up(plan_id=plan.pk, details=details, by=jory, at=at)
    scenery.rows[f"plan.{key}"] = plan


def _keep_for_later(scenery: Scenery, at: datetime) -> None:
    """Keep two set-ups that worked out well in the studio's own library."""
    for key, position, name, anchor in (
        ("brass", 3, "Walking, sun behind them", Anchor.SUNSET),
        ("aldwinter", 2, "Head and shoulders, dark ground", Anchor.START),
    ):
        set_up = scenery.rows[f"plan.{key}"].set_ups.get(position=position)
        keep_set_up(
            set_up=set_up, name=name, anchor=anchor, by=scenery.rows["jory"], at=at
        )


def _pack(scenery: Scenery, at: datetime) -> None:
    """Pack everything for today, half for the band, and add what no rule knows."""
    jory = scenery.rows["jory"]
    _tick(scenery, "aldwinter", at)
    _tick(scenery, "brass", at, most=TICKED)
    add_own_item(
        booking=scenery.rows["booking.brass"],
        section=Section.BEFORE,
        words="Ask the harbour office to open the mole’s gate",
        by=jory,
        at=at,
    )


def _tick(scenery: Scenery, key: str, at: datetime, *, most: int | None = None) -> None:
    booking = Booking.objects.get(pk=scenery.rows[f"booking.{key}"].pk)
    items = refresh_checklist(booking=booking, shoot=planned_shoot(booking))
    for item in items[:most]:
        tick_item(item_id=item.pk, ticked=True, by=scenery.rows["jory"], at=at)


def _print_sheet(scenery: Scenery, at: datetime) -> None:
    """Print both sheets; the band's still waits to be sent."""
    jory = scenery.rows["jory"]
    for key in ("brass", "aldwinter"):
        pk = scenery.rows[f"booking.{key}"].pk
        scenery.rows[f"sheet.{key}"] = make_call_sheet(booking_id=pk, by=jory, at=at)
    send_call_sheet(call_sheet_id=scenery.rows["sheet.aldwinter"].pk, by=jory, at=at)


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
