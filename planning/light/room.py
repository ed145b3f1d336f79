"""Light that the windows of a room give a face: sky, sun, and what the walls return.

Good to a stop: furniture, curtains' folds and the houses opposite are not in it. Take a
reading at the spot.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import atan2, cos, degrees, radians, sin, tan

from planning.light.fill import rectangle_factor
from planning.light.guards import fraction, not_negative, positive
from planning.light.window import overcast_window_lux

# C of the split-flux rule for obstructions of 0, 10, ... 80 degrees: light on the lower
# walls and floor as a percentage of that outdoors. Hopkinson, Longmore & Petherbridge
# 1954, the table from memory.
_SPLIT_FLUX_C = (39.0, 35.0, 31.0, 25.0, 20.0, 14.0, 10.0, 7.0, 5.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Pane:
    """A window in a wall, from inside; `facing_deg` is the way it looks out."""

    width_m: float
    height_m: float
    sill_m: float
    facing_deg: float
    transmittance: float
    obstruction_deg: float = 0.0

    def __post_init__(self) -> None:
        positive(width_m=self.width_m, height_m=self.height_m)
        not_negative(sill_m=self.sill_m)
        fraction(transmittance=self.transmittance)
        if not 0.0 <= self.obstruction_deg < 90.0:
            raise ValueError(
                f"obstruction_deg must lie within 0 and below 90, "
                f"not {self.obstruction_deg}"
            )

    @property
    def area_m2(self) -> float:
        """The glass."""
        return self.width_m * self.height_m


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """Where a face is before a window, and the way it looks.

    `offset_m` is to the right of the window's middle, as one looks out of it.
    """

    distance_m: float
    facing_deg: float
    offset_m: float = 0.0
    height_m: float = 1.2

    def __post_init__(self) -> None:
        positive(distance_m=self.distance_m)


@dataclass(frozen=True, slots=True, kw_only=True)
class Walls:
    """A room's inner surfaces and how much of the light they return on average."""

    surface_m2: float
    mean_reflectance: float

    def __post_init__(self) -> None:
        positive(surface_m2=self.surface_m2)
        if not 0.0 <= self.mean_reflectance < 1.0:
            raise ValueError(
                f"mean_reflectance must lie within 0 and below 1, "
                f"not {self.mean_reflectance}"
            )


def sky_factor(pane: Pane, spot: Spot) -> float:
    """Return the share of a face's view, cosine-weighted, that sky in a window fills.

    What stands opposite hides the lower part of the glass, and the ground what is
    below the face's own height.
    """
    left, right = _sides(pane, spot)
    low, high = _sky_edges(pane, spot)
    if high <= low:
        return 0.0
    out = spot.distance_m
    corners = ((left, low), (right, low), (right, high), (left, high))
    return rectangle_factor(
        corners_m=[(x, out, z) for x, z in corners],
        point_m=(0.0, 0.0, 0.0),
        normal=_face(pane, spot),
    )


def overcast_on_face_lux(
    pane: Pane, spot: Spot, *, outdoor_horizontal_lux: float
) -> float:
    """Return a closed sky's light through a window on a face, in lux.

    Source: `window.overcast_window_lux`, at the middle height of the sky seen.
    """
    low, high = _sky_edges(pane, spot)
    elevation = degrees(atan2(max((low + high) / 2.0, 0.0), spot.distance_m))
    return overcast_window_lux(
        outdoor_horizontal_lux=outdoor_horizontal_lux,
        transmittance=pane.transmittance,
        factor=sky_factor(pane, spot),
        mean_sky_elevation_deg=elevation,
    )


def clear_on_face_lux(pane: Pane, spot: Spot, *, window_sky_lux: float) -> float:
    """Return an open sky's light through a window on a face, in lux; not the sun's.

    `window_sky_lux` is the sky's light on the glass from outside. The half of the sky
    that the window looks at is taken as even: L = 2 E/pi, so tau pi L F = 2 tau E F.
    """
    not_negative(window_sky_lux=window_sky_lux)
    return 2.0 * pane.transmittance * window_sky_lux * sky_factor(pane, spot)


def sun_share(
    pane: Pane, spot: Spot, *, altitude_deg: float, azimuth_deg: float
) -> float:
    """Return the share of the sun's normal light that reaches a face, 0 to 1.

    0 where its ray misses the glass, stands behind what is opposite, or meets the
    face from behind; else the cosine on the face times what the glass lets through.
    """
    turn, up = radians(azimuth_deg - pane.facing_deg), radians(altitude_deg)
    ray = (cos(up) * sin(turn), cos(up) * cos(turn), sin(up))
    if altitude_deg <= pane.obstruction_deg or ray[1] <= 1e-9:
        return 0.0
    reach = spot.distance_m / ray[1]
    left, right = _sides(pane, spot)
    low = pane.sill_m - spot.height_m
    at_side, at_height = ray[0] * reach, ray[2] * reach
    if not (left <= at_side <= right and low <= at_height <= low + pane.height_m):
        return 0.0
    face = _face(pane, spot)
    squarely = sum(one * two for one, two in zip(ray, face, strict=True))
    return max(squarely, 0.0) * pane.transmittance


def walls_lux(pane: Pane, walls: Walls, *, outdoor_horizontal_lux: float) -> float:
    """Return the light that a room's surfaces return to a face, in lux.

    Source: the split-flux rule of Hopkinson, Longmore & Petherbridge (1954), with one
    mean reflectance R for upper and lower surfaces:
    IRC % = T W (C R + 5 R)/(A (1 - R)).
    """
    not_negative(outdoor_horizontal_lux=outdoor_horizontal_lux)
    mean = walls.mean_reflectance
    passed = pane.transmittance * pane.area_m2 * (_split_flux_c(pane) + 5.0) * mean
    share_pct = passed / (walls.surface_m2 * (1.0 - mean))
    return outdoor_horizontal_lux * share_pct / 100.0


def _split_flux_c(pane: Pane) -> float:
    """Return C for an obstruction, straight between the tens of the table."""
    tens = min(pane.obstruction_deg / 10.0, len(_SPLIT_FLUX_C) - 1.001)
    step = int(tens)
    here, there = _SPLIT_FLUX_C[step : step + 2]
    return here + (tens - step) * (there - here)


def _sides(pane: Pane, spot: Spot) -> tuple[float, float]:
    half = pane.width_m / 2.0
    return -half - spot.offset_m, half - spot.offset_m


def _sky_edges(pane: Pane, spot: Spot) -> tuple[float, float]:
    """Return from where to where the glass shows sky, above the face's height."""
    sill = pane.sill_m - spot.height_m
    opposite = spot.distance_m * tan(radians(pane.obstruction_deg))
    return max(sill, opposite, 0.0), sill + pane.height_m


def _face(pane: Pane, spot: Spot) -> tuple[float, float, float]:
    turn = radians(spot.facing_deg - pane.facing_deg)
    return sin(turn), cos(turn), 0.0
