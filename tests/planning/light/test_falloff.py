"""Front and back of a group against the inverse square worked by hand."""

from math import log2

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planning.light.falloff import evening_distance_m, group_falloff_stops


def test_a_lamp_at_the_camera_falls_off_by_the_square_of_both_distances() -> None:
    # By hand: 2 m to the middle of a group 1 m deep, 1.5 m and 2.5 m to its ends:
    # (2.5/1.5)^2 is 2.778, 1.474 stops.
    stops = group_falloff_stops(distance_m=2.0, depth_m=1.0)

    assert stops == pytest.approx(2.0 * log2(2.5 / 1.5))


def test_a_lamp_from_one_side_lights_front_and_back_alike() -> None:
    assert group_falloff_stops(
        distance_m=2.0, depth_m=1.0, bearing_deg=90.0
    ) == pytest.approx(0.0, abs=1e-12)
    assert evening_distance_m(depth_m=1.0, stops=0.5, bearing_deg=90.0) is None


def test_a_lamp_at_60_degrees_by_the_law_of_cosines() -> None:
    # By hand: squares of the distances are 4 + 0.25 -+ 2 * 2 * 0.5 * cos 60, that is
    # 3.25 and 5.25; log2(5.25/3.25) is 0.692.
    stops = group_falloff_stops(distance_m=2.0, depth_m=1.0, bearing_deg=60.0)

    assert stops == pytest.approx(0.6919, abs=1e-4)


def test_the_distance_for_half_a_stop_by_hand() -> None:
    # By hand: half a stop is 2^(1/4) = 1.18921 of distance; 0.5 m * 2.18921/0.18921
    # is 5.785 m from the middle of a group 1 m deep: 5.285 m and 6.285 m to its ends.
    away = evening_distance_m(depth_m=1.0, stops=0.5)

    assert away == pytest.approx(5.785, abs=1e-3)


def test_a_lamp_among_the_sitters_is_refused() -> None:
    with pytest.raises(ValueError, match="stands within"):
        group_falloff_stops(distance_m=0.5, depth_m=1.0)


@given(depth=st.floats(0.1, 5.0), stops=st.floats(0.1, 2.0), turn=st.floats(-180, 180))
def test_the_remedy_gives_the_fall_off_that_was_asked(
    depth: float, stops: float, turn: float
) -> None:
    away = evening_distance_m(depth_m=depth, stops=stops, bearing_deg=turn)

    if away is not None and away > depth / 2.0 * 1.0001:
        found = group_falloff_stops(distance_m=away, depth_m=depth, bearing_deg=turn)
        assert abs(found) == pytest.approx(stops, rel=1e-6)
