from math import atan, cos, pi, radians, sin, sqrt

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planning.light.fill import board_fill_lux, rectangle_factor

Corner = tuple[float, float, float]
UP = (0.0, 0.0, 1.0)
ORIGIN = (0.0, 0.0, 0.0)


def board(width: float, height: float, distance: float) -> list[Corner]:
    """A board square-on before a face at the origin that looks up the z axis."""
    x, y = width / 2.0, height / 2.0
    return [
        (-x, -y, distance),
        (-x, y, distance),
        (x, y, distance),
        (x, -y, distance),
    ]


def corner_parallel(x: float, y: float) -> float:
    """Howell's B-3: element below one corner of a parallel rectangle, X and Y."""
    first = x / sqrt(1 + x * x) * atan(y / sqrt(1 + x * x))
    second = y / sqrt(1 + y * y) * atan(x / sqrt(1 + y * y))
    return (first + second) / (2 * pi)


def corner_perpendicular(x: float, y: float) -> float:
    """Howell's B-4: element at one corner of a perpendicular rectangle."""
    rest = y / sqrt(x * x + y * y) * atan(1 / sqrt(x * x + y * y))
    return (atan(1 / y) - rest) / (2 * pi)


def test_a_square_over_its_corner_gives_the_catalogue_value() -> None:
    # Howell's catalogue, configuration B-3 with X = Y = 1 (number from memory): 0.1385.
    square = [(0.0, 0.0, 1.0), (0.0, 1.0, 1.0), (1.0, 1.0, 1.0), (1.0, 0.0, 1.0)]

    found = rectangle_factor(corners_m=square, point_m=ORIGIN, normal=UP)

    assert found == pytest.approx(0.1385, abs=5e-5)
    assert found == pytest.approx(corner_parallel(1.0, 1.0), abs=1e-12)


@given(a=st.floats(0.05, 20.0), b=st.floats(0.05, 20.0), c=st.floats(0.05, 20.0))
def test_any_parallel_rectangle_agrees_with_the_closed_form(
    a: float, b: float, c: float
) -> None:
    corners = [(0.0, 0.0, c), (0.0, b, c), (a, b, c), (a, 0.0, c)]

    found = rectangle_factor(corners_m=corners, point_m=ORIGIN, normal=UP)

    assert found == pytest.approx(corner_parallel(a / c, b / c), abs=1e-12)


@given(a=st.floats(0.05, 20.0), b=st.floats(0.05, 20.0), c=st.floats(0.05, 20.0))
def test_any_perpendicular_rectangle_agrees_with_the_closed_form(
    a: float, b: float, c: float
) -> None:
    # Howell's B-4: the rectangle b wide and a high stands c away from the element,
    # whose plane holds the rectangle's foot; X = a/b, Y = c/b.
    corners = [(c, 0.0, 0.0), (c, 0.0, a), (c, b, a), (c, b, 0.0)]

    found = rectangle_factor(corners_m=corners, point_m=ORIGIN, normal=UP)

    assert found == pytest.approx(corner_perpendicular(a / b, c / b), abs=1e-12)


def test_a_board_square_on_is_as_worked_out_for_the_sheet() -> None:
    # Recomputed for the physics sheet, three ways: 1.0 x 1.5 m at 1.2 m: 0.24272.
    found = rectangle_factor(corners_m=board(1.0, 1.5, 1.2), point_m=ORIGIN, normal=UP)

    assert found == pytest.approx(0.24272, abs=5e-6)


@pytest.mark.parametrize(("distance", "expected"), [(1.5, 0.2006), (3.0, 0.0596)])
def test_a_window_straight_ahead_is_as_its_closed_form(
    distance: float, expected: float
) -> None:
    found = rectangle_factor(
        corners_m=board(1.2, 1.5, distance), point_m=ORIGIN, normal=UP
    )

    assert found == pytest.approx(expected, abs=5e-5)
    assert found == pytest.approx(
        4 * corner_parallel(0.6 / distance, 0.75 / distance), abs=1e-12
    )


def test_a_far_board_is_its_area_over_the_square() -> None:
    # 1.0 x 1.5 m at 10 m: 0.00475, about A/(pi d^2).
    far = rectangle_factor(corners_m=board(1.0, 1.5, 10.0), point_m=ORIGIN, normal=UP)

    assert far == pytest.approx(0.00475, abs=5e-6)
    assert far == pytest.approx(1.5 / (pi * 100.0), rel=0.01)


def test_opposite_squares_give_the_published_area_factor() -> None:
    # Two parallel squares of 0.1 m, 0.05 m apart: 0.4153 (published area factor; the
    # element's factor averaged over the face by Gauss and Legendre's rule).
    assert area_factor(0.1, 0.1, 0.05) == pytest.approx(0.4153, abs=5e-5)


def test_opposite_rectangles_give_the_published_area_factor() -> None:
    # 1 x 1.5 m, 0.5 m apart: 0.4756 (published).
    assert area_factor(1.0, 1.5, 0.5) == pytest.approx(0.4756, abs=5e-5)


def test_opposite_faces_of_a_cube_give_a_fifth() -> None:
    # 0.1998, from memory of the textbooks; the four sides share the rest: 0.2000 each.
    assert area_factor(1.0, 1.0, 1.0) == pytest.approx(0.1998, abs=5e-5)


def area_factor(width: float, height: float, distance: float) -> float:
    """The factor between two equal rectangles face to face."""
    nodes, weights = np.polynomial.legendre.leggauss(16)
    total = 0.0
    for u, weight_u in zip(nodes, weights, strict=True):
        for v, weight_v in zip(nodes, weights, strict=True):
            point = (float(u) * width / 2.0, float(v) * height / 2.0, 0.0)
            element = rectangle_factor(
                corners_m=board(width, height, distance), point_m=point, normal=UP
            )
            total += float(weight_u * weight_v) / 4.0 * element
    return total


def test_a_low_board_tilted_is_as_a_sum_over_small_pieces() -> None:
    corners = tilted_board()

    found = rectangle_factor(corners_m=corners, point_m=ORIGIN, normal=UP)

    assert found == pytest.approx(by_pieces(corners, ORIGIN, UP), abs=2e-5)


def test_what_lies_behind_the_face_is_clipped() -> None:
    # A wall beside the face, half before and half behind its plane, counts as its
    # front half alone.
    whole = [(1.0, -1.0, -1.0), (1.0, -1.0, 1.0), (1.0, 1.0, 1.0), (1.0, 1.0, -1.0)]
    front = [(1.0, -1.0, 0.0), (1.0, -1.0, 1.0), (1.0, 1.0, 1.0), (1.0, 1.0, 0.0)]

    clipped = rectangle_factor(corners_m=whole, point_m=ORIGIN, normal=UP)

    assert clipped > 0.0
    assert clipped == pytest.approx(
        rectangle_factor(corners_m=front, point_m=ORIGIN, normal=UP), abs=1e-14
    )


def test_a_corner_cut_off_by_the_face_is_clipped_too() -> None:
    # One corner behind the plane leaves five, checked against a sum over pieces.
    corners = [(0.9, 0.0, -0.2), (0.5, -0.4, 0.8), (0.5, 0.6, 1.2), (0.9, 1.0, 0.2)]

    found = rectangle_factor(corners_m=corners, point_m=ORIGIN, normal=UP)

    assert found == pytest.approx(by_pieces(corners, ORIGIN, UP, steps=600), abs=2e-5)


def test_a_single_corner_before_the_face_still_lights_it() -> None:
    # Only one corner rises over the plane: the part that counts is a triangle.
    corners = [(0.9, 0.0, -1.0), (0.5, -0.4, 0.2), (0.5, 0.6, -0.4), (0.9, 1.0, -1.6)]

    found = rectangle_factor(corners_m=corners, point_m=ORIGIN, normal=UP)

    assert found > 0.0
    assert found == pytest.approx(by_pieces(corners, ORIGIN, UP, steps=900), abs=2e-5)


def test_a_board_seen_from_behind_gives_nothing() -> None:
    corners = board(1.0, 1.5, 1.2)

    assert rectangle_factor(corners_m=corners[::-1], point_m=ORIGIN, normal=UP) == 0.0
    away = (0.0, 0.0, -1.0)
    assert rectangle_factor(corners_m=corners, point_m=ORIGIN, normal=away) == 0.0
    assert (
        rectangle_factor(corners_m=corners, point_m=(0.0, 0.0, 2.0), normal=away) == 0.0
    )


def test_a_board_on_edge_gives_nothing() -> None:
    edge_on = (3.0, 0.0, 1.2)

    found = rectangle_factor(
        corners_m=board(1.0, 1.5, 1.2), point_m=edge_on, normal=(-1.0, 0.0, 0.0)
    )

    assert found == 0.0


def test_a_rectangle_of_no_area_gives_nothing() -> None:
    line = [(0.0, 0.0, 1.0), (0.0, 0.0, 1.0), (1.0, 0.0, 1.0), (1.0, 0.0, 1.0)]
    dot = [(0.0, 0.0, 1.0)] * 4

    assert rectangle_factor(corners_m=line, point_m=ORIGIN, normal=UP) == 0.0
    assert rectangle_factor(corners_m=dot, point_m=ORIGIN, normal=UP) == 0.0


@pytest.mark.parametrize(
    "point", [(0.0, 0.0, 1.2), (0.5, 0.0, 1.2), (0.5, 0.75, 1.2), (-0.2, 0.7, 1.2)]
)
def test_a_point_on_the_rectangle_is_refused(point: Corner) -> None:
    with pytest.raises(ValueError, match="on the rectangle"):
        rectangle_factor(corners_m=board(1.0, 1.5, 1.2), point_m=point, normal=UP)


def test_a_face_close_to_a_wide_board_sees_nothing_else() -> None:
    near = rectangle_factor(
        corners_m=board(1000.0, 1000.0, 1.0), point_m=ORIGIN, normal=UP
    )

    assert near == pytest.approx(1.0, abs=1e-5)
    assert near <= 1.0


@pytest.mark.parametrize("length", [1e-200, 0.001, 7.0, 1e200])
def test_the_normal_may_have_any_length(length: float) -> None:
    found = rectangle_factor(
        corners_m=board(1.0, 1.5, 1.2), point_m=ORIGIN, normal=(0.0, 0.0, length)
    )

    assert found == pytest.approx(0.24272, abs=5e-6)


def test_a_rectangle_that_cannot_be_is_refused() -> None:
    corners = board(1.0, 1.5, 1.2)
    bent = [*corners[:3], (0.5, -0.75, 1.5)]

    with pytest.raises(ValueError, match="direction"):
        rectangle_factor(corners_m=corners, point_m=ORIGIN, normal=(0.0, 0.0, 0.0))
    with pytest.raises(ValueError, match="four corners"):
        rectangle_factor(corners_m=corners[:3], point_m=ORIGIN, normal=UP)
    with pytest.raises(ValueError, match="one plane"):
        rectangle_factor(corners_m=bent, point_m=ORIGIN, normal=UP)
    with pytest.raises(ValueError, match="point_m"):
        rectangle_factor(corners_m=corners, point_m=(0.0, 0.0), normal=UP)
    with pytest.raises(ValueError, match="point_m"):
        rectangle_factor(corners_m=corners, point_m=(0.0, 0.0, float("nan")), normal=UP)


@settings(max_examples=40)
@given(
    turn=st.floats(-180.0, 180.0),
    shift=st.tuples(*[st.floats(-5.0, 5.0)] * 3),
    scale=st.floats(0.01, 100.0),
)
def test_the_factor_does_not_depend_on_where_the_room_is(
    turn: float, shift: Corner, scale: float
) -> None:
    corners = tilted_board()

    def moved(point: Corner) -> Corner:
        c, s = cos(radians(turn)), sin(radians(turn))
        x, y, z = point
        turned = (x, c * y - s * z, s * y + c * z)
        return (
            scale * (turned[0] + shift[0]),
            scale * (turned[1] + shift[1]),
            scale * (turned[2] + shift[2]),
        )

    here = rectangle_factor(corners_m=corners, point_m=ORIGIN, normal=UP)
    base = moved(ORIGIN)
    tip = moved(UP)
    there = rectangle_factor(
        corners_m=[moved(corner) for corner in corners],
        point_m=base,
        normal=[t - b for t, b in zip(tip, base, strict=True)],
    )

    assert there == pytest.approx(here, abs=1e-9)


@settings(max_examples=40)
@given(cut=st.floats(0.05, 0.95))
def test_two_halves_give_what_the_whole_gives(cut: float) -> None:
    first, second, third, fourth = np.array(tilted_board())
    low, high = first + cut * (fourth - first), second + cut * (third - second)
    left = [first.tolist(), second.tolist(), high.tolist(), low.tolist()]
    right = [low.tolist(), high.tolist(), third.tolist(), fourth.tolist()]

    parts = [
        rectangle_factor(corners_m=part, point_m=ORIGIN, normal=UP)
        for part in (left, right)
    ]

    assert sum(parts) == pytest.approx(
        rectangle_factor(corners_m=tilted_board(), point_m=ORIGIN, normal=UP), abs=1e-12
    )


def test_a_lit_board_gives_its_share() -> None:
    # White board 0.85 under 60 klx, factor 0.12: 6120 lx, by hand.
    assert board_fill_lux(
        board_lux=60_000.0, reflectance=0.85, factor=0.12
    ) == pytest.approx(6120.0)
    for wrong in (-0.1, 1.1):
        with pytest.raises(ValueError, match=str(wrong)):
            board_fill_lux(board_lux=1.0, reflectance=wrong, factor=0.5)
        with pytest.raises(ValueError, match=str(wrong)):
            board_fill_lux(board_lux=1.0, reflectance=0.5, factor=wrong)
    with pytest.raises(ValueError, match="-5"):
        board_fill_lux(board_lux=-5.0, reflectance=0.5, factor=0.5)


def tilted_board() -> list[Corner]:
    """A board of 1.0 x 1.5 m, low before the face and leaning back 45 degrees."""
    lean = sqrt(0.5)
    return [
        (-0.5, -1.0 - 0.75 * lean, 1.0 - 0.75 * lean),
        (-0.5, -1.0 + 0.75 * lean, 1.0 + 0.75 * lean),
        (0.5, -1.0 + 0.75 * lean, 1.0 + 0.75 * lean),
        (0.5, -1.0 - 0.75 * lean, 1.0 - 0.75 * lean),
    ]


def by_pieces(
    corners: list[Corner], point: Corner, normal: Corner, *, steps: int = 300
) -> float:
    """The factor as a plain sum of cos x cos x area/(pi r^2) over small pieces."""
    first, second, _, fourth = np.array(corners)
    across, along = fourth - first, second - first
    front = np.cross(across, along)
    area = float(np.linalg.norm(front))
    middle = (np.arange(steps) + 0.5) / steps
    u, v = np.meshgrid(middle, middle)
    rays = first + u[..., None] * across + v[..., None] * along - np.array(point)
    squared = (rays * rays).sum(axis=-1)
    face = np.clip(rays @ np.array(normal), 0.0, None)
    away = np.clip(np.abs(rays @ (front / area)), 0.0, None)
    return float((face * away / (pi * squared**2)).sum() * area / steps**2)
