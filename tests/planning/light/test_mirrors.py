from math import cos, radians, sin

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planning.light.mirrors import glasses_spread_deg, mirror_miss_deg

ANGLES = st.floats(-179.0, 179.0)
WITHIN = st.floats(-89.0, 89.0)


def reflected(light_deg: float, facing_deg: float) -> tuple[float, float]:
    """Return where a flat mirror throws light, by vectors: r = 2 (l·n) n - l."""
    lx, ly = sin(radians(light_deg)), cos(radians(light_deg))
    nx, ny = sin(radians(facing_deg)), cos(radians(facing_deg))
    along = lx * nx + ly * ny
    return 2 * along * nx - lx, 2 * along * ny - ly


@given(facing=ANGLES, turn=WITHIN)
def test_a_camera_where_the_mirror_throws_the_light_sees_it(
    facing: float, turn: float
) -> None:
    # The law of reflection in vectors (any textbook of optics): the angle of the ray
    # thrown back is the one at which the miss is none.
    camera = facing - turn
    x, y = reflected(facing + turn, facing)

    miss = mirror_miss_deg(
        light_deg=facing + turn, camera_deg=camera, facing_deg=facing
    )

    assert miss == pytest.approx(0.0, abs=1e-9)
    assert (x, y) == pytest.approx((sin(radians(camera)), cos(radians(camera))))


@given(facing=ANGLES, off=st.floats(-40.0, 40.0))
def test_turning_a_mirror_misses_by_the_turn(facing: float, off: float) -> None:
    # Light 30 degrees right, camera 30 degrees left of the old facing.
    miss = mirror_miss_deg(
        light_deg=facing + 30.0, camera_deg=facing - 30.0, facing_deg=facing + off
    )

    assert miss == pytest.approx(abs(off), abs=1e-9)


def test_light_from_behind_the_glasses_is_not_mirrored() -> None:
    assert mirror_miss_deg(light_deg=100.0, camera_deg=0.0, facing_deg=0.0) == 180.0


def test_how_far_the_front_of_a_lens_turns() -> None:
    # By hand: 6 dioptres of front curve are a radius of 530/6 = 88.3 mm; half of 50 mm
    # over it is a sine of 0.2830, 16.44 degrees. 4 dioptres: 132.5 mm, 10.88 degrees.
    assert glasses_spread_deg() == pytest.approx(16.44, abs=0.01)
    assert glasses_spread_deg(4.0) == pytest.approx(10.88, abs=0.01)
    with pytest.raises(ValueError, match="curve_dioptre"):
        glasses_spread_deg(0.0)
