"""What the light of a set-up asks to be packed."""

from datetime import datetime, timedelta
from typing import Any

import pytest

from jobs.bookings.models import Booking
from jobs.kits.models import KitCategory
from planning.checklists.queries import checklist_of
from planning.shoots.choices import Aim, Light
from planning.shoots.operations import start_plan
from tests.make import NOON, make_booking, make_item, make_job, make_person, make_place
from tests.make_planning import LONDON, make_set_up

pytestmark = pytest.mark.django_db
NOONDAY = datetime(2027, 6, 14, 12, tzinfo=LONDON)
LATE = datetime(2027, 10, 14, 17, 20, tzinfo=LONDON)  # sun about 6 degrees up


def plan_of(at: datetime, **fields: Any) -> Booking:
    booking = make_booking(job=make_job(), place=make_place(), starts_at=at, hours=2)
    plan = start_plan(booking=booking, by=make_person(), at=NOON)
    usual: dict[str, Any] = {"people": 1, "depth_m": 0.2, "distance_m": 3.0}
    make_set_up(plan, at + timedelta(minutes=5), **(usual | fields))
    return booking


def words(booking: Booking) -> str:
    return " | ".join(one.words for one in checklist_of(booking).lines)


def lamp(name: str) -> Any:
    return make_item(name, KitCategory.FLASH, guide_number_m=50.0)


def test_a_second_flash_asks_for_a_second_stand_and_triggers() -> None:
    one = words(plan_of(LATE, light=Light.FLASH, flash=lamp("Lamp A")))
    two = words(
        plan_of(
            LATE + timedelta(days=1),
            light=Light.FLASH,
            flash=lamp("Lamp B"),
            second_flash=lamp("Lamp C"),
        )
    )

    assert "Light stand and sandbag" in one
    assert "Two light stands, a sandbag each" in two
    assert "Light stand and sandbag" not in two
    assert "Triggers" in two
    assert "Lamp C" in two


def test_a_flash_on_the_camera_needs_no_stand() -> None:
    said = words(
        plan_of(LATE, light=Light.FLASH, flash=lamp("Lamp"), flash_from_lens_m=0.12)
    )

    assert "stand" not in said


def test_a_gel_is_the_nearest_by_mired() -> None:
    # By hand: 10^6/3500 - 10^6/5500 = 103.9; the half gel at 81 is nearer than 159.
    fields = {"flash": lamp("Lamp"), "flash_purpose": "fill", "facing_deg": 250.0}
    low = words(plan_of(LATE, **fields))
    high = words(plan_of(NOONDAY, **fields))

    assert "Warm gel, ½" in low
    assert "gel" not in high


def test_a_blur_in_bright_sun_asks_for_a_grey_filter() -> None:
    bright = words(plan_of(NOONDAY, aim=Aim.BLUR, movement="walking", support="tripod"))
    dim = words(plan_of(LATE, light=Light.OPEN_SHADE))

    assert "Grey filter (ND)" in bright
    assert "Grey filter" not in dim
