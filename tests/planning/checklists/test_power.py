"""Batteries, cards and cells. The shares in the cold are common practice, no source."""

import pytest

from planning.checklists.power import (
    camera_batteries,
    cards,
    flash_sets,
    share_left,
)


@pytest.mark.parametrize(
    ("temperature_c", "left"),
    [(None, 1.0), (25.0, 1.0), (20.0, 1.0), (10.0, 0.875), (0.0, 0.75), (-15.0, 0.5)],
)
def test_the_cold_takes_its_share_of_a_charge(
    temperature_c: float | None, left: float
) -> None:
    assert share_left(temperature_c) == pytest.approx(left)


def test_colder_never_gives_more_and_never_nothing() -> None:
    shares = [share_left(degrees / 2) for degrees in range(60, -120, -1)]

    assert shares == sorted(shares, reverse=True)
    assert shares[-1] == 0.5


@pytest.mark.parametrize(
    ("frames", "temperature_c", "number"),
    [
        (100, 20.0, 2),  # 130 of 500: one, and a spare
        (400, 20.0, 3),  # 520 of 500: two, and a spare
        (380, 20.0, 2),  # 494 of 500
        (380, 0.0, 3),  # 494 of 375
        (0, 20.0, 2),
    ],
)
def test_batteries_for_frames(frames: int, temperature_c: float, number: int) -> None:
    counted = camera_batteries(frames, per_battery=500, temperature_c=temperature_c)

    assert counted.number == number
    assert ("°C" in counted.working) == (temperature_c < 20.0)


def test_an_items_own_figure_goes_first() -> None:
    assert camera_batteries(900, per_battery=2_000, temperature_c=None).number == 2
    assert cards(900, megabytes=10).number == 2
    # 900 x 1.3 x 100 MB are 117 GB: two cards, and a spare; twice as many for copies.
    assert cards(900, megabytes=100).number == 3
    assert cards(900, megabytes=100, copies=2).number == 5


def test_cells_follow_the_power_that_is_used() -> None:
    # 320 flashes at a quarter are 80 full ones: 104 of 150 with the reserve.
    assert flash_sets(320, mean_power=0.25, temperature_c=None).number == 2
    # At full power they are 416: three sets, and a spare.
    full = flash_sets(320, mean_power=1.0, temperature_c=None)
    assert full.number == 4
    assert "320 full ones" in full.working
