"""Each rule about flash, in a plan that earns it and in one that does not."""

from datetime import datetime, timedelta
from typing import Any

import pytest

from jobs.bookings.models import Booking
from jobs.kits.models import KitCategory, KitItem
from planning.shoots.choices import FlashMode, Light, SecondPurpose, Trigger
from planning.shoots.operations import start_plan
from planning.shoots.queries import planned_shoot
from tests.make import NOON, make_booking, make_item, make_job, make_person, make_place
from tests.make_planning import LONDON, make_set_up

pytestmark = pytest.mark.django_db
AFTERNOON = datetime(2027, 10, 14, 14, tzinfo=LONDON)


def flash(name: str = "Speedlight", **fields: Any) -> KitItem:
    figures: dict[str, Any] = {"guide_number_m": 36.0, "recycle_s": 4.0} | fields
    return make_item(name, KitCategory.FLASH, **figures)


def plan_of(**fields: Any) -> Booking:
    booking = make_booking(
        job=make_job(), place=make_place(), starts_at=AFTERNOON, hours=3
    )
    plan = start_plan(booking=booking, by=make_person(), at=NOON)
    usual: dict[str, Any] = {
        "people": 1,
        "depth_m": 0.2,
        "distance_m": 3.0,
        "light": Light.FLASH,
        "flash_distance_m": 2.0,
    }
    make_set_up(plan, AFTERNOON + timedelta(minutes=15), **(usual | fields))
    return booking


def rules(booking: Booking) -> set[str]:
    return {one.rule for one in planned_shoot(booking).cautions}


@pytest.mark.parametrize(("from_lens_m", "warned"), [(0.05, True), (0.2, False)])
def test_red_eyes_below_two_and_a_half_degrees(
    from_lens_m: float, warned: bool
) -> None:
    # By hand: atan(0.05/3) is 0.95 degrees, atan(0.2/3) 3.81 degrees.
    booking = plan_of(flash=flash(), flash_from_lens_m=from_lens_m)

    assert ("red-eye" in rules(booking)) is warned


def test_a_bounced_flash_gives_no_red_eyes() -> None:
    booking = plan_of(
        flash=flash(), flash_from_lens_m=0.05, flash_mode=FlashMode.BOUNCE
    )

    assert "red-eye" not in rules(booking)


@pytest.mark.parametrize("upright", [True, False])
def test_a_side_shadow_when_the_camera_is_upright(upright: bool) -> None:
    booking = plan_of(flash=flash(), flash_from_lens_m=0.2, camera_upright=upright)

    assert ("side-shadow" in rules(booking)) is upright


@pytest.mark.parametrize(
    ("trigger", "warned"), [(Trigger.SLAVE, True), (Trigger.RADIO, False)]
)
def test_an_optical_slave_does_not_see_in_the_sun(
    trigger: Trigger, warned: bool
) -> None:
    booking = plan_of(
        light=Light.OPEN_SKY,
        facing_deg=215.0,
        flash=flash(),
        flash_purpose="fill",
        second_flash=flash("Small flash"),
        second_purpose=SecondPurpose.RIM,
        second_trigger=trigger,
    )

    assert ("slave-in-sun" in rules(booking)) is warned


@pytest.mark.parametrize(("recycle_s", "warned"), [(60.0, True), (0.1, False)])
def test_a_flash_slower_than_the_pace(recycle_s: float, warned: bool) -> None:
    booking = plan_of(
        flash=flash(recycle_s=recycle_s, least_power_denominator=4),
        frames_a_minute=60.0,
    )

    assert ("recycle" in rules(booking)) is warned


@pytest.mark.parametrize(("distance_m", "warned"), [(90.0, True), (2.0, False)])
def test_a_flash_out_of_reach(distance_m: float, warned: bool) -> None:
    booking = plan_of(flash=flash(guide_number_m=60.0), flash_distance_m=distance_m)

    assert ("out-of-reach" in rules(booking)) is warned
