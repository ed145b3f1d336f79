from dataclasses import replace
from math import inf
from typing import Any

import pytest

from planning.light.solve import (
    Ambient,
    Body,
    Flash,
    FlashMode,
    FlashPurpose,
    Lens,
    SetUpRequest,
    Subject,
    suggest,
)
from tests.planning.light.solve.cases import PORTRAIT

FLASH = Flash(guide_number_m=40.0, distance_m=2.0)
FILL = replace(FLASH, purpose=FlashPurpose.FILL)


def changed(name: str, value: float) -> dict[str, Any]:
    """A change of one figure, for fields of several types."""
    return {name: value}


def test_light_has_a_dark_and_a_bright_end() -> None:
    light = Ambient(exposure_value=10.0, low_stops=1.5, high_stops=0.5)

    assert light.dark_exposure_value == 8.5
    assert light.bright_exposure_value == 10.5


def test_light_is_sure_to_a_third_of_a_stop_unless_told() -> None:
    # A really clear sky above 10 degrees: a third of a stop between published models.
    light = Ambient(exposure_value=10.0)

    assert light.low_stops == pytest.approx(1 / 3)
    assert light.high_stops == pytest.approx(1 / 3)


@pytest.mark.parametrize("wrong", [30.5, -30.5, float("nan"), inf])
def test_light_out_of_this_world_is_refused(wrong: float) -> None:
    with pytest.raises(ValueError, match=str(wrong)):
        Ambient(exposure_value=wrong)


def test_light_without_honest_bounds_is_refused() -> None:
    with pytest.raises(ValueError, match=r"low_stops .*-1"):
        Ambient(exposure_value=10.0, low_stops=-1.0)
    with pytest.raises(ValueError, match=r"high_stops .*-1"):
        Ambient(exposure_value=10.0, high_stops=-1.0)


@pytest.mark.parametrize(
    ("name", "wrong"),
    [
        ("focal_length_mm", 0.0),
        ("widest_f_number", -1.0),
        ("narrowest_f_number", 0.0),
        ("stabilisation_stops", -0.5),
        ("close_focus_m", 0.0),
        ("shortest_focal_length_mm", -35.0),
    ],
)
def test_a_lens_that_cannot_be_is_refused(name: str, wrong: float) -> None:
    with pytest.raises(ValueError, match=f"{name}.*{wrong}"):
        replace(PORTRAIT.lens, **{name: wrong})


def test_a_lens_whose_apertures_are_turned_round_is_refused() -> None:
    with pytest.raises(ValueError, match=r"widest_f_number 8\.0"):
        Lens(focal_length_mm=50.0, widest_f_number=8.0, narrowest_f_number=4.0)


@pytest.mark.parametrize(
    ("name", "wrong"),
    [
        ("sensor_width_mm", 0.0),
        ("sensor_height_mm", -24.0),
        ("base_iso", 0.0),
        ("highest_iso", 50.0),
        ("highest_iso", 102401.0),
        ("fastest_shutter_s", 0.0),
        ("slowest_shutter_s", 0.001),
        ("sync_s", 0.0),
        ("sync_s", 60.0),
        ("sync_s", 0.00001),
    ],
)
def test_a_body_that_cannot_be_is_refused(name: str, wrong: float) -> None:
    with pytest.raises(ValueError, match=f"{name}.*{wrong}"):
        replace(Body(), **{name: wrong})


def test_the_highest_iso_may_be_the_scale_s_own() -> None:
    assert Body(highest_iso=102400.0).highest_iso == 102400.0


def test_a_body_is_a_usual_one_unless_told() -> None:
    body = Body()

    assert (body.sensor_width_mm, body.sensor_height_mm) == (36.0, 24.0)
    assert (body.base_iso, body.highest_iso) == (100.0, 6400.0)
    assert (body.fastest_shutter_s, body.slowest_shutter_s) == (1 / 8000, 30.0)
    assert body.sync_s == 1 / 200
    assert PORTRAIT.lens.narrowest_f_number == 22.0


@pytest.mark.parametrize(
    ("name", "wrong"),
    [
        ("distance_m", 0.0),
        ("people", 0),
        ("depth_m", -0.1),
        ("depth_m", 6.0),
        ("speed_m_s", -1.0),
        ("angle_deg", inf),
        ("background_m", 2.9),
        ("background_m", float("nan")),
    ],
)
def test_a_subject_that_cannot_be_is_refused(name: str, wrong: float) -> None:
    with pytest.raises(ValueError, match=f"{name}.*{wrong}"):
        replace(PORTRAIT.subject, **changed(name, wrong))


def test_a_group_reaches_half_its_depth_either_way() -> None:
    group = Subject(distance_m=4.0, depth_m=1.0)

    assert (group.near_m, group.far_m) == (3.5, 4.5)


def test_a_subject_stands_and_is_one_plane_unless_told() -> None:
    sitter = Subject(distance_m=3.0)

    assert (sitter.people, sitter.depth_m) == (1, 0.0)
    assert (sitter.speed_m_s, sitter.angle_deg) == (0.05, 90.0)


@pytest.mark.parametrize(
    ("name", "wrong"),
    [
        ("guide_number_m", 0.0),
        ("distance_m", 0.0),
        ("power", 0.0),
        ("power", 1.5),
        ("lowest_power", 0.0),
        ("bounce_reflectance", 0.0),
        ("bounce_reflectance", 1.5),
        ("loss_stops", inf),
        ("bounce_spread_stops", -1.0),
        ("key_minus_fill_stops", inf),
        ("entry_loss_stops", -1.0),
    ],
)
def test_a_flash_that_cannot_be_is_refused(name: str, wrong: float) -> None:
    with pytest.raises(ValueError, match=f"{name}.*{wrong}"):
        replace(FLASH, **changed(name, wrong))


def test_a_flash_whose_powers_are_turned_round_is_refused() -> None:
    with pytest.raises(ValueError, match=r"lowest_power 0\.5"):
        Flash(guide_number_m=40.0, distance_m=2.0, power=0.25, lowest_power=0.5)


@pytest.mark.parametrize(
    ("purpose", "stops"),
    [(FlashPurpose.KEY, 2.0), (FlashPurpose.FILL, 1.0), (FlashPurpose.RIM, 0.0)],
)
def test_a_flash_keeps_the_usual_ratio_unless_told(
    purpose: FlashPurpose, stops: float
) -> None:
    # Common practice: background two stops down, fill at 3:1, rim as strong as the key.
    assert replace(FLASH, purpose=purpose).ratio_stops == stops
    assert replace(FLASH, purpose=purpose, key_minus_fill_stops=0.7).ratio_stops == 0.7


def test_a_bounce_adds_its_loss_to_that_of_the_modifier() -> None:
    # A white ceiling (0.8) takes 0.32 stop, its spread another (common practice).
    softened = replace(FLASH, loss_stops=0.5)

    assert softened.total_loss_stops == 0.5
    assert replace(softened, mode=FlashMode.BOUNCE).total_loss_stops == pytest.approx(
        0.5 + 0.322 + 1.0, abs=0.0005
    )
    assert FLASH.lowest_power == 1 / 128


def test_a_light_fired_by_another_has_no_high_speed_sync() -> None:
    quick = replace(FLASH, entry_loss_stops=1.5)

    assert quick.high_speed_entry_stops == 1.5
    assert replace(quick, mode=FlashMode.SLAVE).high_speed_entry_stops is None
    assert FLASH.high_speed_entry_stops is None


def test_a_request_without_any_light_is_refused() -> None:
    with pytest.raises(ValueError, match="neither light nor flash"):
        replace(PORTRAIT, light=None)
    with pytest.raises(ValueError, match="light_end"):
        replace(PORTRAIT, light=None, light_end=PORTRAIT.light, flash=FLASH)


def test_lights_without_a_key_are_refused() -> None:
    with pytest.raises(ValueError, match="must be the key light, not fill"):
        replace(PORTRAIT, light=None, flash=FILL)
    with pytest.raises(ValueError, match="second_flash is given without flash"):
        replace(PORTRAIT, second_flash=FILL)
    with pytest.raises(ValueError, match="second_flash must be a fill or rim"):
        replace(PORTRAIT, flash=FLASH, second_flash=FLASH)


def test_a_board_takes_nothing_from_the_shadow_side() -> None:
    with pytest.raises(ValueError, match=r"fill_share .*-0\.1"):
        replace(PORTRAIT, fill_share=-0.1)


def test_a_subject_inside_the_focal_length_is_refused() -> None:
    with pytest.raises(ValueError, match=r"0\.08 m is inside"):
        replace(PORTRAIT, subject=Subject(distance_m=0.08))


def test_gear_without_a_third_stop_between_its_ends_is_refused() -> None:
    between = Lens(focal_length_mm=50.0, widest_f_number=2.9, narrowest_f_number=3.0)

    with pytest.raises(ValueError, match="no third stop"):
        suggest(replace(PORTRAIT, lens=between))


def test_requests_with_the_same_content_are_equal() -> None:
    assert SetUpRequest(
        light=PORTRAIT.light,
        lens=PORTRAIT.lens,
        body=PORTRAIT.body,
        subject=PORTRAIT.subject,
    ) == replace(PORTRAIT)
