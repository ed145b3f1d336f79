from dataclasses import replace

import pytest

from planning.light.solve import (
    Aim,
    Flash,
    FlashMode,
    FlashPurpose,
    LimitName,
    RemedyName,
    suggest,
)
from planning.light.solve.levels import read_shares
from tests.planning.light.solve.cases import PORTRAIT, limit
from tests.planning.light.solve.flash_scenes import (
    DUSK,
    STUDIO,
    SUN_FILL,
    light_on_the_face,
)


def test_a_light_fired_by_the_first_holds_the_pair_at_sync() -> None:
    first = Flash(
        guide_number_m=60.0,
        distance_m=1.5,
        purpose=FlashPurpose.FILL,
        entry_loss_stops=1.5,
    )
    slave = Flash(
        guide_number_m=40.0,
        distance_m=2.0,
        purpose=FlashPurpose.RIM,
        mode=FlashMode.SLAVE,
    )

    answer = suggest(
        replace(SUN_FILL, flash=first, second_flash=slave, aim=Aim.THIN_FOCUS)
    )

    assert answer.flash is not None
    assert not answer.flash.high_speed_sync
    assert any("pre-flash" in reason for reason in answer.reasons)


def test_a_second_light_fills_at_its_ratio() -> None:
    second = Flash(
        guide_number_m=40.0,
        distance_m=2.0,
        purpose=FlashPurpose.FILL,
        mode=FlashMode.SLAVE,
    )

    answer = suggest(replace(STUDIO, second_flash=second))

    # Fill one stop under: two thirds from the key, one third from the fill.
    assert answer.flash is not None
    assert answer.second_flash is not None
    assert answer.flash.needed_power == pytest.approx(0.0713 * 2 / 3, rel=1e-3)
    assert answer.second_flash.needed_power == pytest.approx(
        (6.35 * 2.0 / 40.0) ** 2 / 3.0, rel=1e-3
    )
    assert answer.ratio is not None
    assert answer.ratio.key_plus_fill_to_fill == pytest.approx(3.0, rel=0.15)
    assert (
        f"Second light at {answer.second_flash.mark} power as the fill light."
        in answer.reasons
    )
    assert limit(answer, LimitName.SECOND_REACH).met


def test_a_rim_light_adds_nothing_to_the_face() -> None:
    rim = Flash(guide_number_m=40.0, distance_m=2.0, purpose=FlashPurpose.RIM)

    plain = suggest(STUDIO)
    rimmed = suggest(replace(STUDIO, second_flash=rim))

    assert rimmed.flash == plain.flash
    assert rimmed.exposure_error_stops == plain.exposure_error_stops
    assert rimmed.ratio is None
    assert rimmed.second_flash is not None
    assert rimmed.second_flash.needed_power == pytest.approx(
        (6.35 * 2.0 / 40.0) ** 2, rel=1e-3
    )


def test_a_rim_flash_leaves_the_exposure_to_the_sun() -> None:
    assert SUN_FILL.flash is not None
    rim = replace(SUN_FILL.flash, purpose=FlashPurpose.RIM)

    answer = suggest(replace(SUN_FILL, flash=rim))

    assert answer.ambient_under_stops == pytest.approx(0.0, abs=1 / 6)
    assert answer.ratio is None
    assert light_on_the_face(answer, rim) == pytest.approx(1.0, rel=0.13)


def test_a_second_light_out_of_reach_is_a_limit_of_its_own() -> None:
    weak = Flash(guide_number_m=8.0, distance_m=20.0, purpose=FlashPurpose.RIM)
    body = replace(STUDIO.body, highest_iso=100.0)

    answer = suggest(replace(STUDIO, second_flash=weak, body=body))

    assert answer.broken is not None
    assert answer.broken.name is LimitName.SECOND_REACH
    closer = {remedy.name: remedy for remedy in answer.remedies}[
        RemedyName.FLASH_CLOSER
    ]
    assert closer.solves
    assert closer.sentence.startswith("The second light at ")


def test_a_second_light_too_strong_is_a_limit_of_its_own() -> None:
    strong = Flash(guide_number_m=80.0, distance_m=0.2, purpose=FlashPurpose.RIM)

    answer = suggest(replace(STUDIO, second_flash=strong))

    assert answer.broken is not None
    assert answer.broken.name is LimitName.SECOND_LOWEST_POWER
    assert answer.broken.sentence == "the second light goes down to 1/128 power"


def test_a_board_fills_beside_a_flash() -> None:
    answer = suggest(replace(STUDIO, fill_share=0.5))

    assert answer.ratio is not None
    assert answer.ratio.key_plus_fill_to_fill == pytest.approx(3.0)


def test_each_light_is_a_share_of_the_key() -> None:
    second = Flash(
        guide_number_m=40.0,
        distance_m=2.0,
        purpose=FlashPurpose.FILL,
        key_minus_fill_stops=3.0,
    )

    key = read_shares(replace(DUSK, second_flash=second))
    fill = read_shares(SUN_FILL)
    alone = read_shares(STUDIO)
    plain = read_shares(PORTRAIT)
    assert SUN_FILL.flash is not None
    rim = read_shares(
        replace(SUN_FILL, flash=replace(SUN_FILL.flash, purpose=FlashPurpose.RIM))
    )

    assert (key.ambient, key.flash, key.second) == (0.25, 1.0, 0.125)
    assert (key.second_on_face, key.face) == (0.125, 1.375)
    assert (fill.ambient, fill.flash, fill.face) == (1.0, 0.5, 1.5)
    assert (alone.ambient, alone.flash, alone.second, alone.face) == (0, 1, 0, 1)
    assert (plain.ambient, plain.flash, plain.second, plain.face) == (1, 0, 0, 1)
    assert (rim.ambient, rim.flash, rim.face) == (1.0, 1.0, 1.0)
