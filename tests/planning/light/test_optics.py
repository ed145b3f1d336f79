from math import hypot, inf

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from planning.light.optics import (
    airy_diameter_um,
    background_blur_mm,
    circle_of_confusion_mm,
    crop_factor,
    depth_of_field,
    field_of_view_deg,
    framing_distance_m,
    hyperfocal_m,
    magnification,
    zone_f_number,
    zone_focus_m,
)

FOCALS = st.floats(8.0, 800.0)
F_NUMBERS = st.floats(1.0, 45.0)
CIRCLES = st.floats(0.004, 0.08)
DISTANCES = st.floats(1.0, 200.0)


def test_a_naval_handbook_gives_the_same_zone() -> None:
    # US Navy NAVEDTRA 14209, Photography (Basic), published: 155 mm at f/2.8, circle
    # 0.002 in: hyperfocal 554 ft; focused at 10 ft, sharp from 9.8 ft to 10.2 ft. The
    # handbook leaves out the focal length beside the hyperfocal distance.
    foot = 0.3048
    zone = depth_of_field(
        focal_length_mm=155.0,
        f_number=2.8,
        focus_m=10.0 * foot,
        circle_of_confusion_mm=0.002 * 25.4,
    )

    assert zone.hyperfocal_m / foot == pytest.approx(554.0, abs=1.0)
    assert zone.near_m / foot == pytest.approx(9.8, abs=0.05)
    assert zone.far_m / foot == pytest.approx(10.2, abs=0.05)


@pytest.mark.parametrize(
    ("focal", "f_number", "focus", "near", "far"),
    [
        (85.0, 1.8, 2.5, 2.4557, 2.5460),
        (35.0, 8.0, 5.0, 2.535, 183.4),
        (24.0, 11.0, 1.8, 0.892, inf),
    ],
)
def test_the_zone_is_as_worked_out_for_the_sheet(
    focal: float, f_number: float, focus: float, near: float, far: float
) -> None:
    # Recomputed for the physics sheet from the textbook pair, circle 0.03 mm.
    zone = depth_of_field(
        focal_length_mm=focal,
        f_number=f_number,
        focus_m=focus,
        circle_of_confusion_mm=0.03,
    )

    assert zone.near_m == pytest.approx(near, rel=3e-4)
    assert zone.far_m == pytest.approx(far, rel=3e-4)
    assert zone.total_m == pytest.approx(far - near, rel=3e-3)


def test_the_hyperfocal_distance_is_as_worked_out_for_the_sheet() -> None:
    found = hyperfocal_m(
        focal_length_mm=50.0, f_number=8.0, circle_of_confusion_mm=0.03
    )
    other = hyperfocal_m(
        focal_length_mm=35.0, f_number=8.0, circle_of_confusion_mm=0.03
    )

    assert found == pytest.approx(10.467, abs=0.0005)
    assert other == pytest.approx(5.139, abs=0.0005)


@given(focal=FOCALS, f_number=F_NUMBERS, circle=CIRCLES)
def test_focus_at_the_hyperfocal_holds_infinity_and_half_of_it(
    focal: float, f_number: float, circle: float
) -> None:
    hyperfocal = hyperfocal_m(
        focal_length_mm=focal, f_number=f_number, circle_of_confusion_mm=circle
    )

    beyond = depth_of_field(
        focal_length_mm=focal,
        f_number=f_number,
        focus_m=hyperfocal * (1 + 1e-9),
        circle_of_confusion_mm=circle,
    )
    before = depth_of_field(
        focal_length_mm=focal,
        f_number=f_number,
        focus_m=hyperfocal * (1 - 1e-6),
        circle_of_confusion_mm=circle,
    )

    assert beyond.far_m == inf
    assert beyond.total_m == inf
    assert before.far_m > 1e3 * hyperfocal
    assert beyond.near_m == pytest.approx(hyperfocal / 2.0, rel=1e-6)


@given(focal=FOCALS, f_number=F_NUMBERS, circle=CIRCLES, focus=DISTANCES)
def test_the_zone_ends_where_the_blur_grows_to_the_circle(
    focal: float, f_number: float, circle: float, focus: float
) -> None:
    # The closed form against the blur equation itself.
    assume(focus * 1000.0 > 1.5 * focal)
    zone = depth_of_field(
        focal_length_mm=focal,
        f_number=f_number,
        focus_m=focus,
        circle_of_confusion_mm=circle,
    )

    def blur(at_m: float) -> float:
        return background_blur_mm(
            focal_length_mm=focal, f_number=f_number, focus_m=focus, object_m=at_m
        )

    assert blur(zone.near_m) == pytest.approx(circle, rel=1e-6)
    if zone.far_m < 1e6:
        assert blur(zone.far_m) == pytest.approx(circle, rel=1e-5)
    assert zone.near_m < focus < zone.far_m


def test_focus_inside_the_focal_length_is_refused() -> None:
    for focus in (0.05, 0.03, 0.0, -1.0):
        with pytest.raises(ValueError, match=str(focus)):
            depth_of_field(
                focal_length_mm=50.0,
                f_number=4.0,
                focus_m=focus,
                circle_of_confusion_mm=0.03,
            )


def test_the_circle_of_confusion_is_the_diagonal_over_1500() -> None:
    # A convention (published as one): 43.267 mm/1500 = 0.02884 mm on 36 x 24 mm.
    full = circle_of_confusion_mm(sensor_width_mm=36.0, sensor_height_mm=24.0)
    strict = circle_of_confusion_mm(
        sensor_width_mm=36.0, sensor_height_mm=24.0, divisor=3000.0
    )

    assert full == pytest.approx(0.02884, abs=5e-6)
    assert strict == pytest.approx(full / 2.0)


def test_the_crop_factor_is_one_on_36_by_24() -> None:
    assert crop_factor(sensor_width_mm=36.0, sensor_height_mm=24.0) == 1.0
    assert crop_factor(sensor_width_mm=24.0, sensor_height_mm=36.0) == 1.0
    # 23.5 x 15.6 mm: 43.267/28.206 = 1.534, by hand.
    assert crop_factor(sensor_width_mm=23.5, sensor_height_mm=15.6) == pytest.approx(
        1.534, abs=0.0005
    )
    assert hypot(36.0, 24.0) == pytest.approx(43.267, abs=0.0005)


def test_a_normal_lens_sees_forty_degrees_across() -> None:
    # Textbook: 50 mm on 36 mm sees 39.6 degrees at infinity; less when focused near.
    far = field_of_view_deg(focal_length_mm=50.0, sensor_side_mm=36.0)
    near = field_of_view_deg(focal_length_mm=50.0, sensor_side_mm=36.0, focus_m=0.1)

    assert far == pytest.approx(39.598, abs=0.001)
    assert field_of_view_deg(
        focal_length_mm=50.0, sensor_side_mm=36.0, focus_m=inf
    ) == pytest.approx(far)
    # At 0.1 m the lens draws life size (m = 1), so the angle is 2 atan(36/200).
    assert near == pytest.approx(20.408, abs=0.001)


def test_head_and_shoulders_fill_the_frame_from_a_metre_and_a_half() -> None:
    # Recomputed for the physics sheet: 0.6 m on 36 mm with 85 mm: 1.502 m.
    found = framing_distance_m(
        focal_length_mm=85.0, sensor_side_mm=36.0, subject_side_m=0.6
    )

    assert found == pytest.approx(1.502, abs=0.0005)


@given(focal=FOCALS, side=st.floats(5.0, 60.0), subject=st.floats(0.05, 50.0))
def test_from_the_framing_distance_the_subject_is_as_large_as_the_sensor(
    focal: float, side: float, subject: float
) -> None:
    distance = framing_distance_m(
        focal_length_mm=focal, sensor_side_mm=side, subject_side_m=subject
    )

    scale = magnification(focal_length_mm=focal, focus_m=distance)

    assert scale * subject * 1000.0 == pytest.approx(side, rel=1e-6)


def test_a_background_is_blurred_as_worked_out_for_the_sheet() -> None:
    # Recomputed for the physics sheet: 85 mm f/1.8 at 2 m, background at 5 m: 1.258 mm,
    # 3.5 % of the frame's width.
    blur = background_blur_mm(
        focal_length_mm=85.0, f_number=1.8, focus_m=2.0, object_m=5.0
    )

    assert blur == pytest.approx(1.258, abs=0.0005)
    assert blur / 36.0 == pytest.approx(0.035, abs=0.0005)


def test_blur_tends_to_that_of_infinity() -> None:
    def blur(at_m: float) -> float:
        return background_blur_mm(
            focal_length_mm=85.0, f_number=1.8, focus_m=2.0, object_m=at_m
        )

    assert blur(inf) == pytest.approx(85.0 / 1.8 * 85.0 / (2000.0 - 85.0))
    assert blur(1e9) == pytest.approx(blur(inf))
    assert blur(2.0) == 0.0
    with pytest.raises(ValueError, match="-5"):
        blur(-5.0)
    with pytest.raises(ValueError, match="nan"):
        blur(float("nan"))


def test_diffraction_draws_a_disc_at_f16() -> None:
    # 2.44 x 0.55 um x 16 = 21.5 um: Airy's first dark ring, a textbook figure.
    assert airy_diameter_um(16.0) == pytest.approx(21.472, abs=0.001)
    assert airy_diameter_um(16.0, magnification=1.0) == pytest.approx(42.944, abs=0.001)
    assert airy_diameter_um(16.0, wavelength_um=0.7) == pytest.approx(27.328, abs=0.001)
    with pytest.raises(ValueError, match=r"-0\.1"):
        airy_diameter_um(16.0, magnification=-0.1)


@given(
    focal=FOCALS,
    near=st.floats(1.0, 30.0),
    depth=st.floats(0.01, 50.0),
    circle=CIRCLES,
)
def test_the_zone_f_number_just_holds_the_span(
    focal: float, near: float, depth: float, circle: float
) -> None:
    assume(near * 1000.0 > 1.2 * focal)
    far = near + depth
    needed = zone_f_number(
        focal_length_mm=focal, near_m=near, far_m=far, circle_of_confusion_mm=circle
    )

    zone = depth_of_field(
        focal_length_mm=focal,
        f_number=needed,
        focus_m=zone_focus_m(near_m=near, far_m=far),
        circle_of_confusion_mm=circle,
    )

    assert zone.near_m == pytest.approx(near, rel=1e-6)
    assert zone.far_m == pytest.approx(far, rel=1e-4)


def test_the_zone_focus_shares_the_blur_out() -> None:
    assert zone_focus_m(near_m=3.0, far_m=6.0) == pytest.approx(4.0)
    assert zone_focus_m(near_m=3.0, far_m=inf) == pytest.approx(6.0)
    assert zone_focus_m(near_m=3.0, far_m=3.0) == pytest.approx(3.0)
    with pytest.raises(ValueError, match=r"2\.0"):
        zone_focus_m(near_m=3.0, far_m=2.0)


def test_one_plane_needs_no_depth() -> None:
    for near in (1.0, 1.7, 3.3):
        assert zone_f_number(
            focal_length_mm=85.0, near_m=near, far_m=near, circle_of_confusion_mm=0.03
        ) == pytest.approx(0.0, abs=1e-9)
