"""Each rule of the cautions, in a plan that earns it and in one that does not."""

from collections.abc import Callable
from datetime import datetime, time, timedelta
from typing import Any

import pytest

from jobs.bookings.models import Booking
from jobs.kits.models import KitCategory
from planning.shoots.cautions import RULES, Rule, flash
from planning.shoots.choices import (
    Aim,
    FlashPurpose,
    Light,
    Movement,
    Shade,
    SkyWord,
    Support,
)
from planning.shoots.operations import start_plan
from planning.shoots.queries import planned_shoot
from planning.weather.operations import note_weather
from tests.make import NOON, make_booking, make_item, make_job, make_person, make_place
from tests.make_planning import LONDON, make_set_up

pytestmark = pytest.mark.django_db
AFTERNOON = datetime(2027, 10, 14, 14, tzinfo=LONDON)  # sun SW, about 25 degrees up
SUNSET = datetime(2027, 10, 14, 18, 7, tzinfo=LONDON)


def plan_of(
    *set_ups: dict[str, Any],
    starts_at: datetime = AFTERNOON,
    sky: SkyWord = SkyWord.CLEAR,
    **place: Any,
) -> Booking:
    booking = make_booking(
        job=make_job(), place=make_place(**place), starts_at=starts_at, hours=3
    )
    plan = start_plan(booking=booking, by=make_person(), at=NOON)
    plan.sky = sky
    plan.save()
    for fields in set_ups:
        values = {"people": 1, "depth_m": 0.2} | fields
        start = values.pop("at", starts_at + timedelta(minutes=15))
        make_set_up(plan, start, **values)
    return booking


def titles(booking: Booking) -> str:
    return " | ".join(one.title for one in planned_shoot(booking).cautions)


DUSK = SUNSET - timedelta(hours=2)
SUN_BEHIND = {"camera_heading_deg": 125.0}
DEEP = {"people": 6, "depth_m": 3.0, "distance_m": 3.0, "light": Light.OPEN_SHADE}
DIM = {
    "light": Light.WINDOW,
    "window_share_pct": 0.02,
    "movement": Movement.STILL,
    "focal_length_mm": 135.0,
}


def by_flash(**lens: Any) -> dict[str, Any]:
    return {
        "flash": make_item("Small flash", KitCategory.FLASH, guide_number_m=40.0),
        "flash_purpose": FlashPurpose.FILL,
        "lens": make_item("Prime", KitCategory.LENS, focal_length_mm=85.0, **lens),
        "camera_heading_deg": 35.0,
    }


def key_flash(at: datetime) -> Booking:
    flash = make_item("Studio flash", KitCategory.FLASH, guide_number_m=60.0)
    lit = {"light": Light.FLASH, "flash": flash, "at": at, "minutes": 40}
    return plan_of(lit, starts_at=DUSK)


def in_weather(*, place: dict[str, Any] | None = None, **seen: float) -> Booking:
    booking = plan_of(SUN_BEHIND, **(place or {}))
    details = {"read_in": "forecast", "for_at": booking.starts_at} | seen
    note_weather(booking=booking, details=details, by=make_person(), at=NOON)
    return booking


Maker = Callable[[], Booking]

# For each rule a plan that earns its caution, and one that does not.
PAIRS: dict[str, tuple[Maker, Maker]] = {
    "sun-in-frame": (
        lambda: plan_of(
            {"camera_heading_deg": 205.0}, starts_at=AFTERNOON - timedelta(hours=1)
        ),
        lambda: plan_of(
            {"camera_heading_deg": 25.0}, starts_at=AFTERNOON - timedelta(hours=1)
        ),
    ),
    "sun-lost": (
        lambda: plan_of({"at": SUNSET - timedelta(minutes=10)}, starts_at=DUSK),
        lambda: plan_of({"at": SUNSET - timedelta(minutes=60)}, starts_at=DUSK),
    ),
    "overlap": (
        lambda: plan_of({"minutes": 40}, {"minutes": 20}),
        lambda: plan_of({"at": AFTERNOON}, {"at": AFTERNOON + timedelta(minutes=30)}),
    ),
    "outside-session": (
        lambda: plan_of({"at": AFTERNOON - timedelta(minutes=1)}),
        lambda: plan_of({"at": AFTERNOON}),
    ),
    "access-ends": (
        lambda: plan_of({"at": AFTERNOON}, access_until=time(14, 29)),
        lambda: plan_of({"at": AFTERNOON}, access_until=time(14, 30)),
    ),
    "nothing-fits": (
        lambda: plan_of({"distance_m": 0.05, "focal_length_mm": 200.0}),
        lambda: plan_of(SUN_BEHIND),
    ),
    "past-sync": (
        lambda: plan_of(by_flash(widest_f_number=1.8, narrowest_f_number=5.6)),
        lambda: plan_of(by_flash(widest_f_number=1.8, narrowest_f_number=22.0)),
    ),
    "thin-focus": (
        lambda: plan_of(DEEP | {"focal_length_mm": 200.0}),
        lambda: plan_of(DEEP | {"focal_length_mm": 24.0, "distance_m": 6.0}),
    ),
    "hand-too-slow": (
        lambda: plan_of(DIM),
        lambda: plan_of(DIM | {"support": Support.TRIPOD}),
    ),
    "no-flash": (
        lambda: plan_of({"light": Light.FLASH}),
        lambda: key_flash(DUSK),
    ),
    "squint": (
        lambda: plan_of({"camera_heading_deg": 35.0}),
        lambda: plan_of({"camera_heading_deg": 35.0}, sky=SkyWord.OVERCAST),
    ),
    "falls-fast": (
        lambda: plan_of(
            {"at": SUNSET, "minutes": 40, "light": Light.OPEN_SHADE}, starts_at=DUSK
        ),
        lambda: plan_of({"light": Light.OPEN_SHADE}),
    ),
    "background-darkens": (lambda: key_flash(SUNSET), lambda: key_flash(DUSK)),
    "sunset-inside": (
        lambda: plan_of(starts_at=DUSK),
        lambda: plan_of(starts_at=SUNSET - timedelta(hours=5)),
    ),
    "dappled": (
        lambda: plan_of({"shade": Shade.TREE}),
        lambda: plan_of({"shade": Shade.TREE}, sky=SkyWord.OVERCAST),
    ),
    "wind": (
        lambda: in_weather(wind_ms=4.0, gust_ms=8.0),
        lambda: in_weather(wind_ms=5.4, gust_ms=5.4),
    ),
    "rain": (lambda: in_weather(rain_mm_h=0.2), lambda: in_weather(rain_mm_h=0.0)),
    "uv": (lambda: in_weather(uv_index=3.0), lambda: in_weather(uv_index=2.4)),
    "heat": (
        lambda: in_weather(temperature_c=30.0),
        lambda: in_weather(temperature_c=29.9),
    ),
    "cold": (
        lambda: in_weather(temperature_c=5.0),
        lambda: in_weather(temperature_c=5.1),
    ),
    "very-thin-focus": (
        lambda: plan_of(
            {
                "depth_m": 0.0,
                "distance_m": 1.0,
                "focal_length_mm": 135.0,
                "aim": Aim.THIN_FOCUS,
            }
        ),
        lambda: plan_of(DEEP | {"focal_length_mm": 24.0, "distance_m": 6.0}),
    ),
}


def given(booking: Booking) -> set[str]:
    return {one.rule for one in planned_shoot(booking).cautions}


def test_every_rule_has_a_plan_that_earns_it_and_one_that_does_not() -> None:
    elsewhere = {one.name for one in vars(flash).values() if isinstance(one, Rule)}

    # The rules of flash have their pairs in test_flash_cautions.py.
    assert {one.name for one in RULES} - elsewhere == set(PAIRS)
    assert len({one.name for one in RULES}) == len(RULES)


@pytest.mark.parametrize("name", PAIRS)
def test_a_rule_speaks_where_it_should_and_only_there(name: str) -> None:
    earns, does_not = PAIRS[name]

    assert name in given(earns())
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
    booking = plan_of({"camera_heading_deg": 110.0})

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
