"""Light that a board or a window, a flat rectangle, sends to a face.

Lambert's polygon sum after clipping to the face's half-space. The rectangle is even and
matt: white board +-0.3 stop, silver fabric +-1.5 stops (it throws one to two stops more
along its mirror direction).
"""

from collections.abc import Sequence
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from planning.light.guards import fraction, not_negative

_RELATIVE_FLATNESS = 1e-9

Vector = NDArray[np.float64]


def rectangle_factor(
    *,
    corners_m: Sequence[Sequence[float]],
    point_m: Sequence[float],
    normal: Sequence[float],
) -> float:
    """Return the share of a face's view, cosine-weighted, that a rectangle fills.

    Shape: four corners in order, a point and a direction, three numbers each; scalar
    out, 0 to 1. Units: metres; the normal may have any length.
    The part behind the face's plane is clipped. 0 when the point is not before the
    rectangle's front (the side from which the corners run counter-clockwise), and for
    a rectangle of no area. ValueError: a point on the rectangle, corners that are not
    four in one plane, a normal without direction.
    Error: 1e-12. Source: Lambert; Howell's catalogue B-3, B-4; any pose:
    1/(2 pi) sum of angle_i n . (r_i x r_i+1)/|r_i x r_i+1|.
    """
    point = _vector("point_m", point_m)
    facing = _unit_normal(normal)
    rays = _corners(corners_m) - point
    front = np.cross(rays[2] - rays[0], rays[3] - rays[1])
    size = float(np.max(np.abs(rays[:, None, :] - rays[None, :, :])))
    area = float(np.linalg.norm(front))
    if area <= _RELATIVE_FLATNESS * size * size:
        return 0.0
    front = front / area
    _refuse_bent(rays=rays, front=front, size=size)
    height = -float(front @ rays.mean(axis=0))  # of the point over the front
    if abs(height) <= _RELATIVE_FLATNESS * size:
        _refuse_touching(rays=rays, front=front, size=size)
        return 0.0
    if height < 0.0:
        return 0.0
    seen = _clip(rays=rays, facing=facing)
    return _polygon_sum(rays=seen, facing=facing) if len(seen) > 2 else 0.0


def board_fill_lux(*, board_lux: float, reflectance: float, factor: float) -> float:
    """Return the light in lux that a lit board sends to a face.

    `board_lux` is the light on the board's own plane; one bounce only.
    Source: diffuse reflection; reflectance x illuminance x configuration factor.
    """
    not_negative(board_lux=board_lux)
    fraction(reflectance=reflectance, factor=factor)
    return board_lux * reflectance * factor


def _vector(name: str, values: Sequence[float]) -> Vector:
    vector = np.asarray(values, dtype=np.float64)
    if vector.shape != (3,) or not np.isfinite(vector).all():
        raise ValueError(f"{name} must be three finite numbers, not {values}")
    return vector


def _unit_normal(normal: Sequence[float]) -> Vector:
    vector = _vector("normal", normal)
    largest = float(np.max(np.abs(vector)))
    if largest == 0.0:
        raise ValueError(f"normal must have a direction, not {normal}")
    vector = vector / largest  # so that squares of tiny numbers do not vanish
    return vector / np.linalg.norm(vector)


def _corners(corners_m: Sequence[Sequence[float]]) -> Vector:
    if len(corners_m) != 4:
        raise ValueError(f"corners_m must be four corners, not {corners_m}")
    return np.array([_vector("corners_m", corner) for corner in corners_m])


def _refuse_bent(*, rays: Vector, front: Vector, size: float) -> None:
    offsets = (rays - rays.mean(axis=0)) @ front
    if float(np.max(np.abs(offsets))) > 1e-6 * size:
        raise ValueError(f"corners_m do not lie in one plane: {rays.tolist()}")


def _refuse_touching(*, rays: Vector, front: Vector, size: float) -> None:
    """Refuse the point, at the origin of `rays`, if it is on the rectangle itself."""
    edges = np.roll(rays, -1, axis=0) - rays
    sides = np.cross(edges, -rays) @ front
    if (sides >= -_RELATIVE_FLATNESS * size * size).all():
        raise ValueError("point_m lies on the rectangle")


def _clip(*, rays: Vector, facing: Vector) -> list[Vector]:
    """Return the corners of the part that lies before the face."""
    heights = rays @ facing
    kept: list[Vector] = []
    loop = [*zip(rays, heights, strict=True), (rays[0], heights[0])]
    for (here, low), (there, high) in pairwise(loop):
        if low >= 0.0:
            kept.append(here)
        if low * high < 0.0:
            kept.append(here + (there - here) * (low / (low - high)))
    return kept


def _polygon_sum(*, rays: list[Vector], facing: Vector) -> float:
    total = 0.0
    for here, there in pairwise([*rays, rays[0]]):
        across = np.cross(here, there)
        length = float(np.linalg.norm(across))
        if length > 0.0:
            angle = float(np.arctan2(length, here @ there))
            total -= angle * float(facing @ across) / length
    return min(max(total / (2.0 * np.pi), 0.0), 1.0)
