from math import log2

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planning.light.flash import (
    bounce_loss_stops,
    combined_exposure_value,
    distance_change_stops,
    flash_distance_m,
    flash_f_number,
    flash_power,
    frames_left,
    guide_number_from_frame_m,
    guide_number_stops,
    high_speed_sync_loss_stops,
    lighting_ratio,
    loss_from_frame_stops,
    metres_from_feet,
    recycle_s,
    red_eye_angle_deg,
)

GUIDES = st.floats(5.0, 90.0)
DISTANCES = st.floats(0.3, 40.0)
POWERS = st.floats(1 / 512, 1.0)
ISOS = st.floats(50.0, 12800.0)
LOSSES = st.floats(-1.0, 4.0)


@pytest.mark.parametrize(
    ("guide", "distance", "f_number"),
    [(20.0, 4.0, 5.0), (45.0, 8.0, 5.625), (36.0, 4.5, 8.0)],
)
def test_a_guide_number_divides_by_the_distance(
    guide: float, distance: float, f_number: float
) -> None:
    # Guide-number arithmetic as published: GN 20 at 4 m f/5; GN 45 at 8 m f/5.6; the
    # third recomputed for the physics sheet.
    found = flash_f_number(guide_number_m=guide, distance_m=distance)

    assert found == pytest.approx(f_number)


def test_a_guide_number_divides_by_the_f_number() -> None:
    # Published: GN 45 at f/11 reaches 4.09 m.
    assert flash_distance_m(guide_number_m=45.0, f_number=11.0) == pytest.approx(
        4.09, abs=0.005
    )


def test_the_lowest_power_is_as_worked_out_for_the_sheet() -> None:
    # GN 60 at 1/128 acts as GN 5.30: f/3.54 at 1.5 m.
    found = flash_f_number(guide_number_m=60.0, distance_m=1.5, power=1 / 128)

    assert found == pytest.approx(3.54, abs=0.005)
    assert flash_power(
        guide_number_m=60.0, f_number=3.5355, distance_m=1.5
    ) == pytest.approx(1 / 128, rel=1e-4)


def test_two_stops_of_iso_are_a_quarter_of_the_power() -> None:
    full = flash_f_number(guide_number_m=40.0, distance_m=3.0)
    quarter = flash_f_number(guide_number_m=40.0, distance_m=3.0, power=0.25, iso=400.0)

    assert quarter == pytest.approx(full)


def test_a_loss_costs_its_stops() -> None:
    bare = flash_f_number(guide_number_m=40.0, distance_m=3.0)
    softened = flash_f_number(guide_number_m=40.0, distance_m=3.0, loss_stops=1.5)

    assert 2 * log2(bare / softened) == pytest.approx(1.5)


@given(guide=GUIDES, distance=DISTANCES, power=POWERS, iso=ISOS, loss=LOSSES)
def test_f_number_power_and_distance_turn_into_each_other(
    guide: float, distance: float, power: float, iso: float, loss: float
) -> None:
    f_number = flash_f_number(
        guide_number_m=guide,
        distance_m=distance,
        power=power,
        iso=iso,
        loss_stops=loss,
    )

    assert flash_power(
        guide_number_m=guide,
        f_number=f_number,
        distance_m=distance,
        iso=iso,
        loss_stops=loss,
    ) == pytest.approx(power)
    assert flash_distance_m(
        guide_number_m=guide,
        f_number=f_number,
        power=power,
        iso=iso,
        loss_stops=loss,
    ) == pytest.approx(distance)


def test_no_power_gives_no_light_and_out_of_reach_is_over_one() -> None:
    assert flash_f_number(guide_number_m=40.0, distance_m=3.0, power=0.0) == 0.0
    far = flash_power(guide_number_m=20.0, f_number=8.0, distance_m=5.0)
    assert far == pytest.approx(4.0)  # two stops out of reach


def test_a_flash_that_cannot_be_is_refused() -> None:
    with pytest.raises(ValueError, match="distance_m"):
        flash_f_number(guide_number_m=40.0, distance_m=0.0)
    with pytest.raises(ValueError, match="distance_m"):
        flash_power(guide_number_m=40.0, f_number=4.0, distance_m=0.0)
    with pytest.raises(ValueError, match="power"):
        flash_f_number(guide_number_m=40.0, distance_m=1.0, power=-0.5)
    with pytest.raises(ValueError, match="guide_number_m"):
        flash_power(guide_number_m=0.0, f_number=4.0, distance_m=1.0)
    with pytest.raises(ValueError, match="f_number"):
        flash_distance_m(guide_number_m=40.0, f_number=0.0)
    with pytest.raises(ValueError, match="iso"):
        flash_power(guide_number_m=40.0, f_number=4.0, distance_m=1.0, iso=0.0)
    with pytest.raises(ValueError, match="loss_stops"):
        flash_f_number(guide_number_m=4.0, distance_m=1.0, loss_stops=float("nan"))
    with pytest.raises(ValueError, match="loss_stops"):
        flash_power(
            guide_number_m=4.0, f_number=4.0, distance_m=1.0, loss_stops=float("inf")
        )


def test_a_white_ceiling_costs_its_reflectance_and_the_spread() -> None:
    # log2(1/0.8) = 0.32, and half a stop to one and a half for the spread (common
    # practice).
    assert bounce_loss_stops(reflectance=0.8, spread_stops=1.0) == pytest.approx(
        1.322, abs=0.0005
    )
    assert bounce_loss_stops(reflectance=1.0, spread_stops=0.0) == 0.0
    for wrong in (0.0, 1.1, -0.2):
        with pytest.raises(ValueError, match=str(wrong)):
            bounce_loss_stops(reflectance=wrong, spread_stops=1.0)
    with pytest.raises(ValueError, match="-1"):
        bounce_loss_stops(reflectance=0.8, spread_stops=-1.0)


def test_light_falls_off_with_the_square_of_the_distance() -> None:
    # Recomputed for the physics sheet: front row 1.0 m, back row 1.5 m: -1.170 stops.
    assert distance_change_stops(from_m=1.0, to_m=2.0) == pytest.approx(-2.0)
    assert distance_change_stops(from_m=1.0, to_m=1.5) == pytest.approx(
        -1.170, abs=0.0005
    )
    assert distance_change_stops(from_m=2.0, to_m=1.0) == pytest.approx(2.0)
    with pytest.raises(ValueError, match="to_m"):
        distance_change_stops(from_m=1.0, to_m=0.0)


def test_two_equal_lights_make_one_stop() -> None:
    assert combined_exposure_value(first=9.0, second=9.0) == pytest.approx(10.0)
    assert combined_exposure_value(first=12.0, second=2.0) == pytest.approx(
        12.0014, abs=0.0001
    )


@given(first=st.floats(-20, 20), second=st.floats(-20, 20))
def test_lights_add_in_any_order_and_never_darken(first: float, second: float) -> None:
    both = combined_exposure_value(first=first, second=second)

    assert both == combined_exposure_value(first=second, second=first)
    assert max(first, second) <= both <= max(first, second) + 1.0
    assert 2.0**both == pytest.approx(2.0**first + 2.0**second)


@pytest.mark.parametrize(
    ("stops", "key_to_fill", "both_to_fill"),
    [(0.0, 1.0, 2.0), (1.0, 2.0, 3.0), (2.0, 4.0, 5.0), (3.0, 8.0, 9.0)],
)
def test_a_ratio_is_given_in_both_conventions(
    stops: float, key_to_fill: float, both_to_fill: float
) -> None:
    # Both conventions are published; 3:1 is one stop, 5:1 two, 9:1 three in the second.
    ratio = lighting_ratio(stops)

    assert ratio.incident_key_to_fill == pytest.approx(key_to_fill)
    assert ratio.key_plus_fill_to_fill == pytest.approx(both_to_fill)
    assert ratio.lit_minus_shadow_stops == pytest.approx(log2(both_to_fill))


def test_one_stop_of_key_lights_the_face_by_one_and_a_half() -> None:
    assert lighting_ratio(1.0).lit_minus_shadow_stops == pytest.approx(1.585, abs=5e-4)
    with pytest.raises(ValueError, match="inf"):
        lighting_ratio(float("inf"))


def test_high_speed_sync_costs_its_entry_and_then_stop_for_stop() -> None:
    # Recomputed for the physics sheet: 1/1000 s, sync 1/200 s, entry 1.5: 3.82 stops.
    loss = high_speed_sync_loss_stops(
        shutter_s=1 / 1000, sync_s=1 / 200, entry_loss_stops=1.5
    )

    assert loss == pytest.approx(3.82, abs=0.005)


@pytest.mark.parametrize("shutter_s", [1 / 200, 1 / 60, 1.0])
def test_at_sync_and_slower_nothing_is_lost(shutter_s: float) -> None:
    assert (
        high_speed_sync_loss_stops(
            shutter_s=shutter_s, sync_s=1 / 200, entry_loss_stops=1.5
        )
        == 0.0
    )


def test_eyes_turn_red_where_flash_and_lens_are_close() -> None:
    # Recomputed for the physics sheet: 0.12 m apart at 2 m 3.43 degrees, 0.05 m at 3 m
    # 0.95 degrees.
    assert red_eye_angle_deg(separation_m=0.12, distance_m=2.0) == pytest.approx(
        3.43, abs=0.005
    )
    assert red_eye_angle_deg(separation_m=0.05, distance_m=3.0) == pytest.approx(
        0.95, abs=0.005
    )
    assert red_eye_angle_deg(separation_m=0.0, distance_m=3.0) == 0.0
    with pytest.raises(ValueError, match="distance_m"):
        red_eye_angle_deg(separation_m=0.1, distance_m=0.0)


def test_a_flash_recycles_as_fast_as_it_gave_little() -> None:
    assert recycle_s(full_power_recycle_s=3.0, power=0.25) == pytest.approx(0.75)
    assert recycle_s(full_power_recycle_s=3.0, power=1.0) == 3.0
    for wrong in (1.5, -0.1):
        with pytest.raises(ValueError, match=str(wrong)):
            recycle_s(full_power_recycle_s=3.0, power=wrong)


def test_feet_are_a_third_of_a_metre_and_less() -> None:
    assert metres_from_feet(118.0) == pytest.approx(35.97, abs=0.005)  # 0.3048 m a foot


def test_a_card_takes_what_is_left_on_it() -> None:
    # 64 GB decimal, a tenth kept free, 7.6 GB used, 25 MB a frame: 50 GB over 25 MB.
    assert frames_left(capacity_gb=64.0, used_gb=7.6, frame_mb=25.0) == 2000
    assert (
        frames_left(capacity_gb=64.0, used_gb=0.0, frame_mb=32.0, reserve=0.0) == 2000
    )
    assert frames_left(capacity_gb=64.0, used_gb=64.0, frame_mb=25.0) == 0
    assert frames_left(capacity_gb=1.0, used_gb=0.0, frame_mb=30.0, reserve=0.0) == 33


@pytest.mark.parametrize(
    ("guide", "distance", "power", "iso", "f_number"),
    [
        (20.0, 4.0, 1.0, 100.0, 5.0),
        (45.0, 8.0, 1.0, 100.0, 5.625),
        (36.0, 4.5, 0.25, 400.0, 8.0),
        (60.0, 1.5, 1.0 / 128.0, 100.0, 3.536),
    ],
)
def test_a_frame_gives_the_published_guide_number_back(
    guide: float, distance: float, power: float, iso: float, f_number: float
) -> None:
    # The published examples above, read the other way; GN 60 at 1/128 is 5.30.
    found = guide_number_from_frame_m(
        f_number=f_number, distance_m=distance, power=power, iso=iso
    )

    assert found == pytest.approx(guide, rel=1e-3)


def test_a_frame_through_a_modifier_tells_what_it_takes() -> None:
    # By hand: GN 45 at 8 m is f/5.6 bare; f/4 is one stop less, f/2.8 two.
    for f_number, stops in ((5.625, 0.0), (3.977, 1.0), (2.8125, 2.0)):
        found = loss_from_frame_stops(
            guide_number_m=45.0, f_number=f_number, distance_m=8.0
        )
        assert found == pytest.approx(stops, abs=1e-3)


def test_half_the_guide_number_is_two_stops() -> None:
    # By hand: 46 over 58 is 0.793, 2 log2 of it -0.669.
    assert guide_number_stops(measured_m=29.0, stated_m=58.0) == pytest.approx(-2.0)
    assert guide_number_stops(measured_m=46.0, stated_m=58.0) == pytest.approx(
        -0.669, abs=1e-3
    )
