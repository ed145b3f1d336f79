"""For each rule of the cautions a plan that earns it, and plans that do not."""

from collections.abc import Callable
from datetime import datetime, time, timedelta
from typing import Any

from jobs.attending.models import AgeUnit, Need, SessionAnswers
from jobs.bookings.models import Attendee, Booking
from jobs.kits.models import KitCategory, KitItem
from planning.shoots.choices import (
    Aim,
    FlashMode,
    FlashPurpose,
    Light,
    Movement,
    SecondPurpose,
    Shade,
    SkyWord,
    Support,
    Trigger,
)
from planning.shoots.operations import start_plan
from planning.sites.grounds import Ground
from planning.sites.models import Site
from planning.weather.operations import note_weather
from tests.make import NOON, make_booking, make_item, make_job, make_person, make_place
from tests.make_planning import LONDON, make_set_up

AFTERNOON = datetime(2027, 10, 14, 14, tzinfo=LONDON)  # sun SW, about 25 degrees up
SUNSET = datetime(2027, 10, 14, 18, 7, tzinfo=LONDON)


def plan_of(
    *set_ups: dict[str, Any],
    starts_at: datetime = AFTERNOON,
    sky: SkyWord = SkyWord.CLEAR,
    ground: Ground | None = None,
    **place: Any,
) -> Booking:
    """Make a session of three hours with set-ups, a quarter of an hour in."""
    where = make_place(**place)
    if ground:
        Site.objects.create(place=where, ground=ground)
    booking = make_booking(job=make_job(), place=where, starts_at=starts_at, hours=3)
    plan = start_plan(booking=booking, by=make_person(), at=NOON)
    plan.sky = sky
    plan.save()
    for fields in set_ups:
        values = {"people": 1, "depth_m": 0.2} | fields
        start = values.pop("at", starts_at + timedelta(minutes=15))
        make_set_up(plan, start, **values)
    return booking


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


def flash(name: str = "Speedlight", **fields: Any) -> KitItem:
    figures: dict[str, Any] = {"guide_number_m": 36.0, "recycle_s": 4.0} | fields
    return make_item(name, KitCategory.FLASH, **figures)


def flash_plan(**fields: Any) -> Booking:
    """Make a session with one set-up by flash, two metres from a face."""
    usual: dict[str, Any] = {
        "distance_m": 3.0,
        "light": Light.FLASH,
        "flash_distance_m": 2.0,
    }
    return plan_of(usual | fields)


def by_slave(trigger: Trigger) -> Booking:
    return flash_plan(
        light=Light.OPEN_SKY,
        facing_deg=215.0,
        flash=flash(),
        flash_purpose="fill",
        second_flash=flash("Small flash"),
        second_purpose=SecondPurpose.RIM,
        second_trigger=trigger,
    )


def coming(
    booking: Booking, *, guardian: str = "", dog: bool = False, **told: Any
) -> Booking:
    """Let somebody come to a session who told something of themselves."""
    comer = Attendee.objects.create(booking=booking, name="Ilo Oake")
    Need.objects.create(attendee=comer, **told)
    SessionAnswers.objects.create(
        booking=booking, dog_comes=dog, guardian_name=guardian
    )
    return booking


def dog_on(ground: Ground, temperature_c: float) -> Booking:
    booking = in_weather(place={"ground": ground}, temperature_c=temperature_c)
    return coming(booking, dog=True)


def on_grass(sky: SkyWord = SkyWord.CLEAR, **fields: Any) -> Booking:
    sitting = {"movement": Movement.STILL} | fields
    return plan_of(sitting, sky=sky, ground=Ground.GRASS)


Maker = Callable[[], Booking]

# The first plan earns the rule's caution; none of the others does.
PAIRS: dict[str, tuple[Maker, ...]] = {
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
    "access-begins": (
        lambda: plan_of({"at": AFTERNOON}, access_from=time(14, 1)),
        lambda: plan_of({"at": AFTERNOON}, access_from=time(14)),
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
    # By hand: atan(0.05/3) is 0.95 degrees, atan(0.2/3) 3.81; the rule says 2.5.
    "red-eye": (
        lambda: flash_plan(flash=flash(), flash_from_lens_m=0.05),
        lambda: flash_plan(flash=flash(), flash_from_lens_m=0.2),
        lambda: flash_plan(
            flash=flash(), flash_from_lens_m=0.05, flash_mode=FlashMode.BOUNCE
        ),
    ),
    "side-shadow": (
        lambda: flash_plan(flash=flash(), flash_from_lens_m=0.2, camera_upright=True),
        lambda: flash_plan(flash=flash(), flash_from_lens_m=0.2, camera_upright=False),
    ),
    "slave-in-sun": (lambda: by_slave(Trigger.SLAVE), lambda: by_slave(Trigger.RADIO)),
    "recycle": (
        lambda: flash_plan(
            flash=flash(recycle_s=60.0, least_power_denominator=4),
            frames_a_minute=60.0,
        ),
        lambda: flash_plan(
            flash=flash(recycle_s=0.1, least_power_denominator=4), frames_a_minute=60.0
        ),
    ),
    "out-of-reach": (
        lambda: flash_plan(flash=flash(guide_number_m=60.0), flash_distance_m=90.0),
        lambda: flash_plan(flash=flash(guide_number_m=60.0), flash_distance_m=2.0),
    ),
    "flash-sensitive": (
        lambda: coming(flash_plan(flash=flash()), flash_sensitive=True),
        lambda: coming(plan_of(SUN_BEHIND), flash_sensitive=True),
        lambda: coming(flash_plan(flash=flash())),
    ),
    "baby-flash": (
        lambda: coming(flash_plan(flash=flash()), age=11, age_unit=AgeUnit.MONTHS),
        lambda: coming(flash_plan(flash=flash()), age=1, age_unit=AgeUnit.YEARS),
        lambda: coming(
            flash_plan(flash=flash(), flash_mode=FlashMode.BOUNCE),
            age=3,
            age_unit=AgeUnit.MONTHS,
        ),
        lambda: coming(
            flash_plan(
                flash=flash(), modifier=make_item("Soft box", KitCategory.MODIFIER)
            ),
            age=3,
            age_unit=AgeUnit.MONTHS,
        ),
    ),
    "guardian": (
        lambda: coming(plan_of(), age=17),
        lambda: coming(plan_of(), age=17, guardian="Fenna Oake"),
        lambda: coming(plan_of(), age=18),
        lambda: coming(plan_of()),
    ),
    "not-shown": (
        lambda: coming(plan_of(), not_shown=True),
        lambda: coming(plan_of()),
    ),
    # The session runs from 14:00 to 17:00.
    "nap": (
        lambda: coming(plan_of(), naps="12:30–14:01"),
        lambda: coming(plan_of(), naps="12:30–14:00"),
        lambda: coming(plan_of(), naps="17:00–18:00"),
    ),
    "wheelchair": (
        lambda: coming(plan_of(), uses_wheelchair=True),
        lambda: coming(plan_of(access="A ramp by the gate"), uses_wheelchair=True),
        lambda: coming(plan_of()),
    ),
    "dog": (lambda: coming(plan_of(), dog=True), lambda: coming(plan_of())),
    "dog-hot-ground": (
        lambda: dog_on(Ground.ASPHALT, 25.0),
        lambda: dog_on(Ground.ASPHALT, 24.9),
        lambda: dog_on(Ground.GRASS, 25.0),
        lambda: in_weather(place={"ground": Ground.ASPHALT}, temperature_c=25.0),
    ),
    # By hand: they look into the camera; a flash 32 degrees beside it would need the
    # glasses turned 16 degrees, within the 16.4 of their curve; at 34 it is 17.
    "glasses": (
        lambda: coming(
            flash_plan(flash=flash(), flash_bearing_deg=32.0), wears_glasses=True
        ),
        lambda: coming(
            flash_plan(flash=flash(), flash_bearing_deg=34.0), wears_glasses=True
        ),
        lambda: coming(flash_plan(flash=flash(), flash_bearing_deg=32.0)),
        lambda: coming(
            flash_plan(
                flash=flash(), flash_bearing_deg=32.0, flash_mode=FlashMode.BOUNCE
            ),
            wears_glasses=True,
        ),
    ),
    "green": (
        on_grass,
        lambda: on_grass(sky=SkyWord.OVERCAST),
        lambda: on_grass(movement=Movement.STANDING),
        lambda: plan_of({"movement": Movement.STILL}, ground=Ground.SAND),
    ),
    "permission": (
        plan_of,
        lambda: plan_of(access="Permit 12, by the council"),
        lambda: plan_of(contact_name="The warden"),
        lambda: plan_of(is_room=True),
    ),
    "tide": (
        lambda: plan_of(name="North beach"),
        lambda: plan_of(name="Priory lawn"),
        lambda: plan_of(name="Beach Road studio", is_room=True),
    ),
}
