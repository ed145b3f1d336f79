"""The demo's share of planning: skylines, a room, light plans, ticks, call sheets."""

from __future__ import annotations

from datetime import datetime
from typing import Any, Final

from jobs.bookings.models import Booking
from planning.callsheets.operations import make_call_sheet
from planning.callsheets.sending import send_call_sheet
from planning.checklists.models import Section
from planning.checklists.operations import add_own_item, refresh_checklist, tick_item
from planning.demo_plans import PLANS
from planning.patterns.models import Anchor
from planning.patterns.operations import keep_set_up
from planning.shoots.choices import SkyWord
from planning.shoots.operations import add_set_up, choose_sky, start_plan
from planning.shoots.queries import planned_shoot
from planning.sites.grounds import REFLECTANCES, Ground
from planning.sites.interiors import WallTone
from planning.sites.operations import SiteDetails, keep_site
from planning.sites.points import PointKind, SkyPoint
from planning.sites.room_operations import keep_room, keep_window
from planning.sites.skyline import Stretch
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
        SkyPoint(azimuth_deg=azimuth, height_deg=height, what=PointKind.HILL)
        for azimuth, height in ((80, 0.5), (105, 2.0), (128, 4.5), (150, 2.5), (166, 0))
    ),
}
GROUNDS: Final = {"beach": Ground.SAND, "harbour": Ground.CONCRETE}
TICKED: Final = 9


@demo_share
def planning_share(scenery: Scenery) -> None:
    """Tell of skylines, plans and papers; hands on `plan.KEY`."""
    scenery.then(-118, "11:00", lambda at: _look_round(scenery, at))
    scenery.then(-118, "11:40", lambda at: _measure_studio(scenery, at))
    scenery.then(-4, "15:00", lambda at: _plan(scenery, "brass", at))
    scenery.then(-3, "15:30", lambda at: _plan(scenery, "aldwinter", at))
    scenery.then(-3, "16:10", lambda at: _plan_newborn(scenery, at))
    scenery.then(-3, "16:40", lambda at: _plan(scenery, "fenwarren", at))
    scenery.then(-3, "17:00", lambda at: _plan(scenery, "choir", at))
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


def _measure_studio(scenery: Scenery, at: datetime) -> None:
    """Measure the studio's long room and its north window."""
    rows, jory = scenery.rows, scenery.rows["jory"]
    size = {"name": "Long room", "length_m": 7.2, "width_m": 4.4, "height_m": 3.1}
    rows["room"] = keep_room(
        place=rows["place.studio"],
        room=None,
        details=size | {"walls": WallTone.WHITE},
        by=jory,
        at=at,
    )
    glass = {"name": "north window", "width_m": 2.4, "height_m": 1.9, "sill_m": 0.7}
    rows["window"] = keep_window(
        room=rows["room"],
        window=None,
        details=glass | {"facing_deg": 350.0, "obstruction_deg": 12.0},
        by=jory,
        at=at,
    )


def _plan_newborn(scenery: Scenery, at: datetime) -> None:
    """Plan a morning by the window for a grey day; whatever is brighter is a gift."""
    _plan(scenery, "tarrant", at)
    plan = scenery.rows["plan.tarrant"]
    choose_sky(plan_id=plan.pk, sky=SkyWord.OVERCAST, by=scenery.rows["jory"], at=at)


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


def _plan(scenery: Scenery, key: str, at: datetime) -> None:
    booking: Booking = scenery.rows[f"booking.{key}"]
    _add_plan(scenery, key, PLANS[key](scenery.rows, booking), at)


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
    _tick(scenery, "tarrant", at, most=0)
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
    """Print the sheets; the band's and the newborn's still wait to be sent."""
    jory = scenery.rows["jory"]
    for key in ("brass", "aldwinter", "tarrant"):
        pk = scenery.rows[f"booking.{key}"].pk
        scenery.rows[f"sheet.{key}"] = make_call_sheet(booking_id=pk, by=jory, at=at)
    sent = scenery.rows["sheet.aldwinter"].pk
    send_call_sheet(call_sheet_id=sent, by=jory, at=at, despite_gaps=True)
