"""Where light mirrors into the camera: flat panes, and the curved front of glasses."""

from __future__ import annotations

from math import asin, degrees
from typing import Final

from planning.light.guards import positive

INDEX_LESS_ONE_MM: Final = 530.0
"""Opticians' front curves are marked for an index of 1.530: radius is 530 mm over the
curve in dioptres (convention of the trade, from memory)."""
USUAL_CURVE_D: Final = 6.0  # common practice: 4 to 6 dioptres; 6 mirrors most widely
USUAL_WIDTH_MM: Final = 50.0  # common practice, no source: the width of one lens


def mirror_miss_deg(*, light_deg: float, camera_deg: float, facing_deg: float) -> float:
    """Return how far a flat mirror is turned off the way that shows the light.

    Shape: scalars in, scalar out, from 0 to 180. Units: degrees; directions as azimuths
    seen from the mirror: to the light, to the camera, and the way that it faces.
    Model: angle of incidence is angle of reflection, so the mirror would have to face
    half-way between light and camera; seen from above, heights are left out. A light
    or a camera behind the mirror's plane is never shown: 180.
    Error: none in the plane.
    """
    light, camera = _turn(light_deg, facing_deg), _turn(camera_deg, facing_deg)
    if max(abs(light), abs(camera)) >= 90.0:
        return 180.0
    return abs(light + camera) / 2.0


def glasses_spread_deg(
    curve_dioptre: float = USUAL_CURVE_D, width_mm: float = USUAL_WIDTH_MM
) -> float:
    """Return how far the front of a lens turns away from its middle at its edges.

    Within so many degrees of the mirror's way, some part of the lens shows the light.
    Shape: scalars. Units: dioptres, millimetres; degrees out.
    Error: strong lenses are curved otherwise; frames tip 5 to 10 degrees more.
    """
    positive(curve_dioptre=curve_dioptre, width_mm=width_mm)
    radius_mm = INDEX_LESS_ONE_MM / curve_dioptre
    return degrees(asin(min(width_mm / 2.0 / radius_mm, 1.0)))


def _turn(azimuth_deg: float, from_deg: float) -> float:
    return (azimuth_deg - from_deg + 180.0) % 360.0 - 180.0
