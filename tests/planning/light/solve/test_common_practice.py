"""The figures that are the trade's common practice, in one place; no source.

Each is a judgement: change one here and in the code together, or not at all.
"""

from planning.light.solve import modes, reasons
from planning.light.solve.dials import SPARE_ALL_SHARP_THIRDS, SPARE_DEPTH_THIRDS
from planning.light.solve.help import brightness, darkness
from planning.light.solve.lamps import NO_FILL
from planning.light.solve.levels import to_thirds
from planning.light.solve.limits import FLASH_FREEZES_STOPS
from planning.light.solve.line import COMFORT_THIRDS
from planning.light.solve.times import (
    HAND_CAP_S,
    LONGEST_STREAK_STOPS,
    RATING_DISCOUNT_STOPS,
    STREAK_OF_FRAME,
)


def test_the_figures_of_common_practice_stand_as_written() -> None:
    assert HAND_CAP_S == 1 / 8
    assert RATING_DISCOUNT_STOPS == 1.0
    assert STREAK_OF_FRAME == 1 / 20
    assert LONGEST_STREAK_STOPS == 2.0
    assert SPARE_DEPTH_THIRDS == 3
    assert SPARE_ALL_SHARP_THIRDS == 6
    assert COMFORT_THIRDS == 6
    assert FLASH_FREEZES_STOPS == 3.0
    assert NO_FILL == 1 / 1024
    assert modes.STEADY_STOPS == 1.0
    assert modes.SPARE_STOPS == 1.0
    assert modes.MOVES_FROM_M_S == 1.0
    assert reasons.RED_EYE_DEG == 2.5
    assert brightness.USUAL_ENTRY_LOSS_STOPS == 1.5
    assert darkness.GUIDE_NUMBERS_M == (10.0, 14.0, 20.0, 28.0, 40.0, 56.0)


def test_light_is_counted_in_the_nearest_third() -> None:
    assert to_thirds(1 / 6 - 1e-6) == 0
    assert to_thirds(1 / 6) == 1
    assert to_thirds(-1 / 6) == 0
    assert to_thirds(-1 / 6 - 1e-6) == -1
    assert to_thirds(4.0) == 12
