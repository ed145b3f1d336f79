from dataclasses import replace

import pytest

from planning.light.solve import (
    Flash,
    FlashMode,
    suggest,
)
from planning.light.solve.lamps import dial_power, power_mark
from tests.planning.light.solve.flash_scenes import (
    STUDIO,
)


def test_a_flash_says_how_fast_it_recycles_and_whether_eyes_turn_red() -> None:
    flash = Flash(
        guide_number_m=60.0,
        distance_m=1.5,
        loss_stops=1.5,
        full_power_recycle_s=3.0,
        separation_m=0.1,
    )

    answer = suggest(replace(STUDIO, flash=flash))
    bounced = suggest(replace(STUDIO, flash=replace(flash, mode=FlashMode.BOUNCE)))
    apart = suggest(replace(STUDIO, flash=replace(flash, separation_m=0.12)))

    assert answer.flash is not None
    assert answer.flash.recycle_s == pytest.approx(3.0 * 2 ** (-11 / 3))
    assert answer.flash.red_eye_angle_deg == pytest.approx(2.29, abs=0.005)
    assert any("red eyes" in reason for reason in answer.reasons)
    assert not any("red eyes" in reason for reason in bounced.reasons)
    assert not any("red eyes" in reason for reason in apart.reasons)  # 2.75 degrees


@pytest.mark.parametrize(("separation_m", "warned"), [(0.1087, True), (0.1096, False)])
def test_eyes_are_warned_of_below_two_and_a_half_degrees(
    separation_m: float, warned: bool
) -> None:
    # Teaching pages say 2 to 2.5 degrees; 0.1087 m and 0.1096 m at 2.5 m are 2.49 and
    # 2.51 degrees.
    assert STUDIO.flash is not None
    answer = suggest(
        replace(STUDIO, flash=replace(STUDIO.flash, separation_m=separation_m))
    )

    assert any("red eyes" in reason for reason in answer.reasons) == warned


@pytest.mark.parametrize(
    ("power", "mark"),
    [
        (1.0, "1/1"),
        (2 ** (-1 / 3), "1/2 +0.7"),
        (2 ** (-2 / 3), "1/2 +0.3"),
        (0.5, "1/2"),
        (1 / 128, "1/128"),
        (2 ** (-20 / 3), "1/128 +0.3"),
    ],
)
def test_a_power_is_read_as_on_the_dial(power: float, mark: str) -> None:
    assert power_mark(power) == mark


def test_a_power_is_set_on_third_stops_within_the_flash() -> None:
    assert dial_power(0.3, lowest=1 / 128, highest=1.0) == pytest.approx(2 ** (-5 / 3))
    assert dial_power(4.0, lowest=1 / 128, highest=0.5) == 0.5
    assert dial_power(0.0, lowest=1 / 64, highest=0.5) == 1 / 64
    assert dial_power(1e-5, lowest=1 / 64, highest=0.5) == 1 / 64
