"""Builders of the planning side: an autumn evening on a coast, planned in full."""

from datetime import UTC, datetime, time, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from jobs.bookings.models import Attendee, Booking, Part
from jobs.bookings.operations import list_attendees
from jobs.kits.models import KitCategory
from jobs.places.models import Place
from planning.shoots.choices import Light, Support
from planning.shoots.models import SetUp, ShootPlan
from planning.shoots.operations import add_set_up, start_plan
from planning.sites.models import Site
from studio.people.models import Person
from tests.make import (
    NOON,
    make_booking,
    make_client,
    make_item,
    make_job,
    make_person,
    make_place,
    make_profile,
)

LONDON = ZoneInfo("Europe/London")
EVENING = datetime(2027, 10, 14, 15, tzinfo=LONDON)


def make_quay(**fields: Any) -> Place:
    values: dict[str, Any] = {
        "address": "Quay Lane\nSandhaven",
        "meeting_point": "the harbour gate",
        "access": "Harbour gate, key from the office",
        "access_until": time(18),
        "parking": "On the hard above the slipway, free after 14:00",
        "rain_plan": "The net loft, by the north window",
        "contact_name": "Harbour office",
        "contact_phone": "01632 960140",
    } | fields
    place = make_place("Sandhaven slipway", **values)
    headland = {"from_deg": 225, "to_deg": 262, "height_deg": 6.5, "name": "headland"}
    Site.objects.create(place=place, skyline=[headland])
    return place


def make_set_up(plan: ShootPlan, starts_at: datetime, **fields: Any) -> SetUp:
    values: dict[str, Any] = {
        "name": "Sea wall",
        "starts_at": starts_at.astimezone(UTC),
        "minutes": 30,
        "people": 4,
        "depth_m": 0.6,
        "distance_m": 5.0,
        "camera_heading_deg": 45.0,
        "focal_length_mm": 85.0,
    } | fields
    return add_set_up(plan_id=plan.pk, details=values, by=_somebody(), at=NOON)


def _somebody() -> Person:
    return Person.objects.first() or make_person()


def make_shoot() -> Booking:
    """Make an evening at a slipway: two of the studio, a quartet, four set-ups."""
    make_profile()
    owner = make_person(phone="01632 960101", email="ada@vane.example")
    planner = make_person(
        "Bram Okoro", hats="planner", phone="01632 960102", email="bram@vane.example"
    )
    client = make_client("Tidewater Quartet", contact_name="Ines Marlow")
    flash = make_item("Battery flash", KitCategory.FLASH, guide_number_m=60.0)
    items = (
        make_item("Camera body A", KitCategory.CAMERA, bag="Grey roller"),
        make_item("85 mm", KitCategory.LENS, focal_length_mm=85.0, widest_f_number=1.8),
        make_item("50 mm", KitCategory.LENS, focal_length_mm=50.0, widest_f_number=1.8),
        make_item("Soft box and ring", KitCategory.MODIFIER),
        make_item("White reflector, large", KitCategory.BOARD),
        flash,
    )
    booking = make_booking(
        job=make_job("Tidewater Quartet, press portraits", client=client, by=owner),
        place=make_quay(),
        starts_at=EVENING,
        hours=3.75,
        people=(owner, planner),
        items=items,
    )
    booking.weather_decision = "Decided by 13:00; Ada rings you"
    booking.save()
    list_attendees(
        booking_id=booking.pk, attendees=_quartet(booking), by=owner, at=NOON
    )
    _plan(booking, owner, items)
    return booking


def _quartet(booking: Booking) -> list[Attendee]:
    return [
        Attendee(
            booking=booking,
            name="Ines Marlow",
            part=Part.CLIENT,
            role="client, manager",
            phone="01632 960118",
            email="ines@quartet.example",
        ),
        Attendee(
            booking=booking, name="Four players", role="two violins, viola, cello"
        ),
        Attendee(booking=booking, name="Jo Reed", email="jo@quartet.example"),
    ]


def _plan(booking: Booking, owner: Person, items: tuple[Any, ...]) -> None:
    plan = start_plan(booking=booking, by=owner, at=NOON)
    board, flash = items[4], items[5]
    at = EVENING
    make_set_up(
        plan,
        at + timedelta(minutes=15),
        name="Boathouse doors",
        note="All four",
        minutes=35,
        light=Light.OPEN_SHADE,
        board=board,
    )
    make_set_up(
        plan,
        at + timedelta(minutes=70),
        name="Sea wall, sun behind",
        note="All four, reflector low",
        minutes=35,
        light=Light.OPEN_SHADE,
        camera_heading_deg=230.0,
    )
    make_set_up(
        plan,
        at + timedelta(minutes=110),
        name="Bow portraits",
        note="One at a time",
        minutes=24,
        people=1,
        distance_m=3.5,
        focal_length_mm=135.0,
        depth_m=0.1,
        camera_heading_deg=150.0,
    )
    make_set_up(
        plan,
        at + timedelta(minutes=190),
        name="Lamp room, dusk",
        note="All four, soft box, warm gel",
        minutes=25,
        light=Light.FLASH,
        flash=flash,
        support=Support.TRIPOD,
        distance_m=4.0,
        focal_length_mm=50.0,
        camera_heading_deg=90.0,
    )
