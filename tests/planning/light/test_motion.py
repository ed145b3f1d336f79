from math import sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planning.light.motion import (
    ACCEPTABLE_BLUR_MM,
    CRITICAL_BLUR_MM,
    Movement,
    blur_px,
    freezing_shutter_s,
    handheld_shutter_s,
    image_speed_mm_s,
    take_off_speed_m_s,
)

MILE_PER_HOUR = 0.44704
FOOT = 0.3048


@pytest.mark.parametrize(
    ("speed", "angle", "distance", "focal", "blur", "one_over"),
    [
        (1.4, 90.0, 4.0, 85.0, 0.03, 1013),  # a walk
        (1.4, 90.0, 4.0, 85.0, 0.06, 507),
        (3.5, 90.0, 6.0, 85.0, 0.03, 1676),  # a child that runs
        (3.5, 45.0, 6.0, 85.0, 0.03, 1186),
        (10.0, 90.0, 20.0, 400.0, 0.03, 6803),  # a bird
        (10.0, 90.0, 40.0, 200.0, 0.06, 838),  # a gull; 1/833 by m = f/s
    ],
)
def test_the_freezing_shutter_is_as_worked_out_for_the_sheet(
    speed: float,
    angle: float,
    distance: float,
    focal: float,
    blur: float,
    one_over: int,
) -> None:
    shutter = freezing_shutter_s(
        speed_m_s=speed,
        angle_deg=angle,
        distance_m=distance,
        focal_length_mm=focal,
        blur_mm=blur,
    )

    assert shutter is not None
    assert 1.0 / shutter == pytest.approx(one_over, abs=0.6)


@pytest.mark.parametrize("feet", [12.0, 25.0, 50.0])
@pytest.mark.parametrize(("mph", "step"), [(5.0, 0), (10.0, 1)])
def test_a_naval_table_allows_about_two_circles_of_blur(
    feet: float, mph: float, step: int
) -> None:
    # US Navy NAVEDTRA 14209, table 4-2 (published): 5 mph across at 12, 25, 50 ft wants
    # 1/500, 1/250, 1/125 s, twice as fast for 10 mph; 50 mm on 36 x 24 mm. That is a
    # blur of 0.059 to 0.077 mm: the default of 0.06 lies at its strict end.
    printed = {12.0: 1 / 500, 25.0: 1 / 250, 50.0: 1 / 125}[feet] / 2**step
    shutter = freezing_shutter_s(
        speed_m_s=mph * MILE_PER_HOUR,
        angle_deg=90.0,
        distance_m=feet * FOOT,
        focal_length_mm=50.0,
        blur_mm=ACCEPTABLE_BLUR_MM,
    )

    assert shutter is not None
    assert printed / 1.30 <= shutter <= printed * 1.02


def test_acceptable_blur_is_two_circles_and_critical_one() -> None:
    assert ACCEPTABLE_BLUR_MM == 0.06
    assert CRITICAL_BLUR_MM == 0.03


def test_a_walk_moves_thirty_millimetres_a_second_over_the_sensor() -> None:
    # Recomputed for the physics sheet: 1.4 m/s, 85 mm at 4 m: 30.40 mm/s.
    speed = image_speed_mm_s(
        speed_m_s=1.4, angle_deg=90.0, distance_m=4.0, focal_length_mm=85.0
    )

    assert speed == pytest.approx(30.40, abs=0.005)


@pytest.mark.parametrize(("speed", "angle"), [(0.0, 90.0), (5.0, 0.0), (5.0, 180.0)])
def test_what_does_not_cross_the_frame_has_no_limit(speed: float, angle: float) -> None:
    assert (
        freezing_shutter_s(
            speed_m_s=speed,
            angle_deg=angle,
            distance_m=4.0,
            focal_length_mm=85.0,
            blur_mm=0.06,
        )
        is None
    )


@given(
    speed=st.floats(0.1, 30.0), angle=st.floats(1.0, 179.0), distance=st.floats(1, 100)
)
def test_the_way_of_crossing_does_not_matter(
    speed: float, angle: float, distance: float
) -> None:
    def shutter(at_deg: float) -> float | None:
        return freezing_shutter_s(
            speed_m_s=speed,
            angle_deg=at_deg,
            distance_m=distance,
            focal_length_mm=85.0,
            blur_mm=0.06,
        )

    assert shutter(angle) == pytest.approx(shutter(180.0 - angle), rel=1e-6)
    assert shutter(angle) == pytest.approx(shutter(-angle), rel=1e-6)


def test_motion_that_cannot_be_is_refused() -> None:
    with pytest.raises(ValueError, match="-1"):
        image_speed_mm_s(
            speed_m_s=-1.0, angle_deg=90.0, distance_m=4.0, focal_length_mm=85.0
        )
    with pytest.raises(ValueError, match=r"0\.05"):
        image_speed_mm_s(
            speed_m_s=1.0, angle_deg=90.0, distance_m=0.05, focal_length_mm=85.0
        )
    with pytest.raises(ValueError, match="nan"):
        image_speed_mm_s(
            speed_m_s=1.0, angle_deg=float("nan"), distance_m=4.0, focal_length_mm=85.0
        )
    with pytest.raises(ValueError, match=r"0\.0"):
        freezing_shutter_s(
            speed_m_s=1.0,
            angle_deg=90.0,
            distance_m=4.0,
            focal_length_mm=85.0,
            blur_mm=0.0,
        )


def test_steady_hands_hold_one_over_the_focal_length() -> None:
    # The reciprocal rule of camera handbooks (published): 125 mm wants 1/125 s.
    assert handheld_shutter_s(125.0) == pytest.approx(1 / 125)
    assert handheld_shutter_s(50.0, crop_factor=1.5) == pytest.approx(1 / 75)
    assert handheld_shutter_s(50.0, stabilisation_stops=3.0) == pytest.approx(8 / 50)


def test_the_handheld_time_has_no_cap_of_its_own() -> None:
    assert handheld_shutter_s(14.0, stabilisation_stops=8.0) == pytest.approx(256 / 14)
    with pytest.raises(ValueError, match="-1"):
        handheld_shutter_s(50.0, stabilisation_stops=-1.0)
    with pytest.raises(ValueError, match=r"0\.0"):
        handheld_shutter_s(0.0)


def test_people_move_as_fast_as_is_common_practice() -> None:
    # Walking: Bohannon 1997, Age & Ageing, 1.2-1.5 m/s, from memory. The rest: common
    # practice, no source.
    assert {movement: movement.speed_m_s for movement in Movement} == {
        "still": 0.01,
        "standing": 0.05,
        "gesturing": 2.0,
        "walking": 1.4,
        "running": 3.5,
        "jumping": 2.5,
    }


def test_a_jump_leaves_the_ground_as_mechanics_say() -> None:
    # v = sqrt(2 g h): 0.4 m high leaves at 2.80 m/s, within the 2-3 m/s of practice.
    assert take_off_speed_m_s(0.4) == pytest.approx(sqrt(2 * 9.80665 * 0.4))
    assert take_off_speed_m_s(0.4) == pytest.approx(2.801, abs=0.0005)
    assert take_off_speed_m_s(0.0) == 0.0
    with pytest.raises(ValueError, match="-1"):
        take_off_speed_m_s(-1.0)


def test_blur_is_counted_in_pixels() -> None:
    assert blur_px(blur_mm=0.03, sensor_width_mm=36.0, width_px=6000) == pytest.approx(
        5
    )
