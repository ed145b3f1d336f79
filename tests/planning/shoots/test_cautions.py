"""Each rule of the cautions, in a plan that earns it and in one that does not."""

from datetime import datetime, time, timedelta

import pytest

from jobs.bookings.models import Booking
from jobs.kits.models import KitCategory
from planning.shoots.cautions import RULES, PlaceFacts
from planning.shoots.choices import (
    FlashPurpose,
    Light,
    Movement,
    Shade,
    Support,
)
from planning.shoots.models import ShootPlan
from planning.shoots.queries import planned_shoot
from planning.sites.models import Room, Window
from planning.weather.operations import note_weather
from tests.make import NOON, make_item, make_person
from tests.make_planning import LONDON, make_set_up
from tests.planning.shoots.caution_pairs import (
    AFTERNOON,
    DUSK,
    PAIRS,
    SUNSET,
    coming,
    in_weather,
    plan_of,
)

pytestmark = pytest.mark.django_db


def titles(booking: Booking) -> str:
    return " | ".join(one.title for one in planned_shoot(booking).cautions)


def given(booking: Booking) -> set[str]:
    return {one.rule for one in planned_shoot(booking).cautions}


def test_every_rule_has_a_plan_that_earns_it_and_one_that_does_not() -> None:
    assert {one.name for one in RULES} == set(PAIRS)
    assert len({one.name for one in RULES}) == len(RULES)


@pytest.mark.parametrize("name", PAIRS)
def test_a_rule_speaks_where_it_should_and_only_there(name: str) -> None:
    earns, *others = PAIRS[name]

    assert name in given(earns())
    assert others
    for does_not in others:
        Booking.objects.all().delete()
        assert name not in given(does_not())


def test_weather_outdoors_is_no_matter_in_a_room() -> None:
    room = {"is_room": True}
    stormy = in_weather(place=room, wind_ms=20.0, rain_mm_h=9.0, uv_index=9.0)

    assert given(stormy) == set()


def test_the_latest_weather_counts() -> None:
    booking = in_weather(temperature_c=33.0)
    details = {"read_in": "sky", "for_at": booking.starts_at, "temperature_c": 21.0}
    later = NOON + timedelta(hours=1)
    note_weather(booking=booking, details=details, by=make_person(), at=later)

    assert "heat" not in given(booking)


def test_every_caution_names_its_source_and_risks_come_first() -> None:
    booking = plan_of({"light": Light.FLASH, "at": SUNSET}, starts_at=DUSK)
    cautions = planned_shoot(booking).cautions

    assert all(one.source for one in cautions)
    weights = [one.is_risk for one in cautions]
    assert weights == sorted(weights, reverse=True)
    assert {True, False} == set(weights)


def test_a_calm_plan_earns_no_caution() -> None:
    booking = plan_of(
        {"camera_heading_deg": 110.0},
        name="Priory lawn",
        access="Permit by the council",
    )

    assert titles(booking) == ""


@pytest.mark.parametrize(("heading", "warned"), [(205.0, True), (25.0, False)])
def test_the_sun_in_the_frame_is_a_danger_to_eyes(heading: float, warned: bool) -> None:
    late = datetime(2027, 10, 14, 13, tzinfo=LONDON)
    booking = plan_of({"camera_heading_deg": heading}, starts_at=late)

    assert ("Sun in or near the frame" in titles(booking)) is warned


@pytest.mark.parametrize(("heading", "warned"), [(35.0, True), (125.0, False)])
def test_the_sun_in_the_sitters_eyes(heading: float, warned: bool) -> None:
    booking = plan_of({"camera_heading_deg": heading})

    assert ("Sun in the sitters’ eyes" in titles(booking)) is warned


def test_a_wall_keeps_the_sun_out_of_their_eyes() -> None:
    booking = plan_of({"camera_heading_deg": 35.0, "shade": Shade.WALL})

    assert "eyes" not in titles(booking)


def test_light_that_falls_fast_at_dusk() -> None:
    dusk = {"at": SUNSET, "minutes": 40, "light": Light.OPEN_SHADE}
    booking = plan_of(dusk, starts_at=SUNSET - timedelta(hours=2))

    assert "Light falls fast in set-up 1" in titles(booking)


def test_sunset_inside_the_session() -> None:
    inside = plan_of(starts_at=SUNSET - timedelta(hours=2))
    before = plan_of(starts_at=SUNSET - timedelta(hours=5))

    assert "Sunset inside the session" in titles(inside)
    assert "Sunset inside the session" not in titles(before)


def test_the_sun_is_lost_before_the_end() -> None:
    runs_over = {"at": SUNSET - timedelta(minutes=10), "minutes": 30}
    booking = plan_of(runs_over, starts_at=SUNSET - timedelta(hours=2))

    assert "Set-up 1 may run out of sun" in titles(booking)


def test_focus_thinner_than_the_group() -> None:
    deep = {"people": 6, "depth_m": 3.0, "distance_m": 3.0, "focal_length_mm": 200.0}
    booking = plan_of(deep | {"light": Light.OPEN_SHADE, "camera_heading_deg": 125.0})

    assert "Focus is thinner than the group in set-up 1" in titles(booking)


def test_too_slow_to_hold_by_hand_and_a_tripod_cures_it() -> None:
    room = {
        "light": Light.WINDOW,
        "window_share_pct": 0.02,
        "movement": Movement.STILL,
        "focal_length_mm": 135.0,
    }
    by_hand = plan_of(room)
    carried = plan_of(room | {"support": Support.TRIPOD})

    assert "Too slow to hold by hand in set-up 1" in titles(by_hand)
    assert "Too slow to hold by hand" not in titles(carried)


def test_the_shutter_past_flash_sync() -> None:
    flash = make_item("Small flash", KitCategory.FLASH, guide_number_m=40.0)
    lens = make_item(
        "Old prime",
        KitCategory.LENS,
        focal_length_mm=85.0,
        widest_f_number=1.8,
        narrowest_f_number=5.6,
    )
    fill = {
        "flash": flash,
        "flash_purpose": FlashPurpose.FILL,
        "lens": lens,
        "camera_heading_deg": 35.0,
    }
    booking = plan_of(fill)

    assert "Shutter past flash sync in set-up 1" in titles(booking)


def test_no_flash_chosen_for_a_set_up_by_flash() -> None:
    assert "No flash chosen for set-up 1" in titles(plan_of({"light": Light.FLASH}))


def test_set_ups_that_overlap_or_lie_outside_the_session() -> None:
    early = {"at": AFTERNOON - timedelta(minutes=30), "minutes": 60}
    booking = plan_of(early, {"at": AFTERNOON})

    assert "Set-ups 1 and 2 overlap" in titles(booking)
    assert "Set-up 1 is outside the session" in titles(booking)


def test_access_that_ends_before_a_set_up_is_over() -> None:
    booking = plan_of({"at": AFTERNOON + timedelta(hours=1)}, access_until=time(15, 15))

    assert "Access ends before set-up 1 is over" in titles(booking)


def test_figures_that_do_not_fit_together_are_told_and_break_nothing() -> None:
    booking = plan_of({"distance_m": 0.05, "depth_m": 0.0, "focal_length_mm": 200.0})

    assert "Set-up 1 cannot be worked out" in titles(booking)
    assert planned_shoot(booking).set_ups[0].suggestion is None


@pytest.mark.parametrize(("facing", "warned"), [(10.0, True), (60.0, False)])
def test_a_window_mirrors_in_glasses_that_look_half_way(
    facing: float, warned: bool
) -> None:
    # The camera stands north of them, the window's middle 0.6 m along its wall and
    # 1.2 m off: by hand it is seen atan(0.5) = 26.6 degrees left of due east, at 63.4,
    # half-way at 31.7. Half its 1 m is 22.6 degrees: reach 16.4 + 11.3 = 27.7.
    booking = plan_of(is_room=True)
    room = Room.objects.create(
        place=booking.place, name="Long room", length_m=6, width_m=4, height_m=2.4
    )
    window = Window.objects.create(
        room=room, name="east", width_m=1.0, height_m=1.5, facing_deg=90.0
    )
    make_set_up(
        ShootPlan.objects.get(booking=booking),
        AFTERNOON,
        light=Light.WINDOW,
        window=window,
        window_distance_m=1.2,
        window_offset_m=0.6,
        camera_heading_deg=180.0,
        facing_deg=facing,
    )

    coming(booking, wears_glasses=True)

    assert ("glasses" in given(booking)) is warned


@pytest.mark.parametrize(
    ("access", "silent"),
    [
        ("A ramp by the gate", True),
        ("Level path, muddy after rain", True),
        ("Step-free from the car park", True),
        ("No steps", True),
        ("There is no ramp", False),
        ("Not a level path", False),
        ("Eleven steps down", False),
        ("Rampart walk", False),
    ],
)
def test_what_an_entry_says_of_wheels_is_read_with_its_no(
    access: str, silent: bool
) -> None:
    assert PlaceFacts(words=access).step_free_is_written is silent


@pytest.mark.parametrize(
    ("access", "silent"),
    [
        ("Permit 12, by the council", True),
        ("The warden agreed on 3 May", True),
        ("No permission yet", False),
        ("Leave by the north gate", False),
    ],
)
def test_what_an_entry_says_of_leave_is_read_with_its_no(
    access: str, silent: bool
) -> None:
    assert PlaceFacts(words=access).permission_is_written is silent
