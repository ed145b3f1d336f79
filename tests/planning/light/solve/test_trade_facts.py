"""Facts of the trade, each in a stated scene. Common practice, no source."""

from dataclasses import replace
from math import inf

import pytest

from planning.light.motion import Movement, freezing_shutter_s
from planning.light.optics import depth_of_field
from planning.light.solve import (
    Aim,
    Ambient,
    Lens,
    LimitName,
    RemedyName,
    SetUpRequest,
    Subject,
    suggest,
)
from planning.light.solve.times import no_slower_than
from tests.planning.light.solve.cases import PORTRAIT, limit


def gull(exposure_value: float) -> SetUpRequest:
    """A gull that crosses at 10 m/s, 40 m off, on a 200 mm lens."""
    return replace(
        PORTRAIT,
        light=Ambient(exposure_value=exposure_value),
        lens=Lens(focal_length_mm=200.0, widest_f_number=5.6),
        subject=Subject(distance_m=40.0, speed_m_s=10.0),
        aim=Aim.FREEZE,
    )


def test_a_thousandth_of_a_second_stops_a_gull() -> None:
    slowest = freezing_shutter_s(
        speed_m_s=10.0,
        angle_deg=90.0,
        distance_m=40.0,
        focal_length_mm=200.0,
        blur_mm=0.06,
    )
    assert slowest is not None

    in_dusk = suggest(gull(9.4))

    assert 1 / slowest == pytest.approx(833, rel=0.01)
    assert no_slower_than(slowest) == 30  # 1/1000 s, and 1/800 s would not do
    assert in_dusk.fits
    assert in_dusk.shutter_dark.nominal == "1/1000 s"
    assert in_dusk.blur_mm <= 0.06


def test_a_bright_day_lets_a_gull_be_frozen_fully() -> None:
    in_sun = suggest(gull(15.0))

    assert in_sun.iso.nominal == "ISO 250"
    assert in_sun.shutter_dark.nominal == "1/2000 s"
    assert in_sun.blur_mm <= 0.03


def test_slower_than_a_sixtieth_wants_a_tripod_with_a_normal_lens() -> None:
    normal = replace(
        PORTRAIT,
        lens=Lens(focal_length_mm=50.0, widest_f_number=2.8),
        subject=Subject(distance_m=3.0, speed_m_s=0.0),
    )
    sure = Ambient(exposure_value=10.0, low_stops=0.0, high_stops=0.0)
    at_a_sixtieth = replace(sure, exposure_value=3.0)
    at_a_thirtieth = replace(sure, exposure_value=2.0)

    steady = suggest(replace(normal, light=at_a_sixtieth))
    shaken = suggest(replace(normal, light=at_a_thirtieth))

    assert steady.fits
    assert steady.shutter.nominal == "1/50 s"  # 1/50 by the rule 1/f
    assert shaken.shutter.nominal == "1/30 s"
    assert shaken.broken is not None
    assert shaken.broken.name is LimitName.HAND
    assert any(
        remedy.name is RemedyName.TRIPOD and remedy.solves for remedy in shaken.remedies
    )


@pytest.mark.parametrize(
    ("day", "exposure_value", "iso"),
    [("sunny", 15.0, "ISO 100"), ("grey", 12.0, "ISO 400")],
)
def test_a_sunny_day_is_iso_100_light_and_a_grey_one_wants_400(
    day: str, exposure_value: float, iso: str
) -> None:
    # A group at f/8 and 1/250 s: 0.65 m deep at 4 m on 85 mm, turning and talking at
    # 0.7 m/s. Sunny 15 and heavy overcast 12 are the exposure table's (published).
    group = replace(
        PORTRAIT,
        light=Ambient(exposure_value=exposure_value),
        subject=Subject(distance_m=4.0, depth_m=0.65, people=4, speed_m_s=0.65),
    )

    answer = suggest(group)

    assert answer.fits, day
    assert answer.iso.nominal == iso


def test_wide_open_holds_an_eye() -> None:
    answer = suggest(
        replace(
            PORTRAIT,
            light=Ambient(exposure_value=12.0),
            subject=Subject(distance_m=2.5),
            aim=Aim.THIN_FOCUS,
        )
    )

    assert answer.f_number.nominal == "f/1.8"
    assert answer.zone.total_m == pytest.approx(0.087, abs=0.005)  # 9 cm: not a head
    assert answer.zone.total_m < 0.2


def test_f22_holds_everything_from_a_near_subject_to_the_background() -> None:
    # 35 mm, somebody 1.0 m off before the horizon.
    answer = suggest(
        replace(
            PORTRAIT,
            light=Ambient(exposure_value=15.0),
            lens=Lens(focal_length_mm=35.0, widest_f_number=2.0),
            subject=Subject(distance_m=1.0, background_m=inf),
            aim=Aim.ALL_SHARP,
        )
    )

    assert answer.fits
    assert answer.f_number.nominal == "f/22"
    assert answer.zone.far_m == inf
    assert answer.zone.near_m <= 1.0
    open_lens = depth_of_field(
        focal_length_mm=35.0, f_number=2.0, focus_m=1.0, circle_of_confusion_mm=0.0288
    )
    assert open_lens.far_m < 1.2


def test_a_walk_towards_the_camera_needs_no_fast_shutter() -> None:
    across = replace(
        PORTRAIT, subject=Subject(distance_m=4.0, speed_m_s=Movement.WALKING.speed_m_s)
    )
    towards = replace(across, subject=replace(across.subject, angle_deg=0.0))

    assert limit(suggest(across), LimitName.MOTION).sentence == (
        "1/507 s or faster stops a subject at 1.4 m/s"
    )
    assert all(found.name is not LimitName.MOTION for found in suggest(towards).limits)


def test_water_and_walkers_blur_at_a_fifteenth_on_a_tripod() -> None:
    # A walk across at 4 m on 85 mm: 30.4 mm/s, a twentieth of the frame's 24 mm in
    # 1/25 s; an ND filter where the light is too bright.
    walker = replace(
        PORTRAIT,
        light=Ambient(exposure_value=9.0),
        subject=Subject(distance_m=4.0, speed_m_s=1.4),
        aim=Aim.BLUR,
    )

    by_hand = suggest(walker)

    assert by_hand.shutter.exact >= 1.2 / 30.4
    assert by_hand.broken is not None
    assert by_hand.broken.name is LimitName.HAND
    assert by_hand.remedies[0].name is RemedyName.TRIPOD
    assert by_hand.remedies[0].solves
