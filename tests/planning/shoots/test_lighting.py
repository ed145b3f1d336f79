"""Flashes and boards as the solver takes them, against figures worked by hand."""

from datetime import datetime
from math import log2

import pytest

from jobs.kits.models import KitCategory, KitItem
from planning.light.illuminance import Sky
from planning.light.solve.lamps import dial_power, power_mark
from planning.shoots.choices import FlashMode, Light, Surface
from planning.shoots.daylight import Daylight, Where
from planning.shoots.lamp_words import falloff_words, lamp_reasons
from planning.shoots.lighting import board_share, first_flash, second_flash
from planning.shoots.models import SetUp
from planning.shoots.planned import PlannedSetUp
from planning.shoots.queries import plan_set_ups
from planning.shoots.words import why_words
from tests.make_planning import LONDON

LONDON_PLACE = Where(latitude_deg=51.5, longitude_deg=0.0, time_zone="Europe/London")


def a_flash(**fields: float) -> KitItem:
    return KitItem(
        name="Flash", category=KitCategory.FLASH, guide_number_m=40.0, **fields
    )


def a_set_up(**fields: object) -> SetUp:
    at = datetime(2027, 10, 14, 14, tzinfo=LONDON)
    return SetUp(name="One", starts_at=at, **fields)


def test_a_bounce_takes_the_whole_path_and_the_surface() -> None:
    # By hand: 1.5 + 2.5 m; log2(1/0.5) and a stop of spread make two stops.
    flash = first_flash(
        a_set_up(
            flash=a_flash(),
            flash_mode=FlashMode.BOUNCE,
            bounce_surface=Surface.CEILING,
            bounce_to_m=1.5,
            bounce_on_m=2.5,
            bounce_reflectance=0.5,
        )
    )

    assert flash is not None
    assert flash.distance_m == 4.0
    assert flash.total_loss_stops == pytest.approx(2.0)


def test_losses_of_unit_modifier_and_gel_add() -> None:
    soft_box = KitItem(name="Box", category=KitCategory.MODIFIER, loss_stops=1.3)
    flash = first_flash(
        a_set_up(
            flash=a_flash(loss_stops=0.2), modifier=soft_box, modifier_loss_stops=0.5
        )
    )

    assert flash is not None
    assert flash.total_loss_stops == pytest.approx(2.0)


def test_the_wanted_contrast_goes_to_the_second_flash_that_fills() -> None:
    row = a_set_up(
        flash=a_flash(),
        second_flash=KitItem(pk=7, name="Two", guide_number_m=30.0),
        second_purpose="fill",
        key_to_fill=4.0,
    )
    second = second_flash(row)

    assert second is not None
    assert second.ratio_stops == pytest.approx(log2(4.0))


def test_a_board_square_on_gives_the_published_share() -> None:
    # Configuration factor of 1.0 x 1.5 m, square on at 1.2 m: 0.24272 (Howell, B-3).
    board = KitItem(name="White", width_m=1.0, height_m=1.5, reflectance=0.85)
    row = a_set_up(board=board, board_distance_m=1.2, board_bearing_deg=-90.0)
    share = board_share(row, 90.0)

    assert share == pytest.approx(0.85 * 0.24272, abs=1e-4)


def test_a_board_on_the_keys_own_side_gives_nothing() -> None:
    board = KitItem(name="White", width_m=1.0, height_m=1.5)
    share = board_share(a_set_up(board=board, board_bearing_deg=45.0), 45.0)

    assert share == 0.0


@pytest.mark.parametrize(
    ("needed", "steps", "mark"),
    [(0.3, 3, "1/4 +0.3"), (0.3, 1, "1/4"), (0.35, 2, "1/4 +0.5"), (0.001, 3, "1/128")],
)
def test_power_stands_on_the_units_own_ladder(
    needed: float, steps: int, mark: str
) -> None:
    # By hand: log2(0.3) is -1.74, nearest third -5/3; log2(0.35) is -1.51.
    power = dial_power(needed, lowest=1 / 128, highest=1.0, steps=steps)

    assert power_mark(power, steps=steps) == mark


def a_group(**fields: object) -> PlannedSetUp:
    row = a_set_up(
        light=Light.FLASH,
        flash=a_flash(),
        flash_bearing_deg=0.0,
        flash_distance_m=2.0,
        people=6,
        distance_m=5.0,
        **fields,
    )
    light = Daylight(LONDON_PLACE, row.starts_at, row.ends_at)
    return plan_set_ups([row], light, Sky.OVERCAST)[0]


def test_a_deep_group_is_told_where_the_light_should_stand() -> None:
    # By hand: 1.5 and 2.5 m are 1.47 stops apart; half a stop wants 5.785 m, and
    # 2 log2(5.785/2) is 3.06 stops of power.
    one = a_group(depth_m=1.0)

    assert one.falloff is not None
    assert falloff_words(one.falloff) == (
        "Front to back row 1.5 stops: move the light back to 5.8 m for 0.5, "
        "3.1 stops more power."
    )
    assert falloff_words(one.falloff) in why_words(one)
    assert falloff_words(one.falloff) in lamp_reasons(one)


def test_an_even_group_needs_no_remedy_and_one_sitter_has_no_rows() -> None:
    even = a_group(depth_m=0.2)
    alone = a_group(depth_m=1.0, flash_mode=FlashMode.BOUNCE)

    assert even.falloff is not None
    assert falloff_words(even.falloff) == "Front to back row 0.3 stop."
    assert alone.falloff is None
