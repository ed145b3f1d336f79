"""How fast a subject crosses the sensor, and how still a hand is."""

from enum import StrEnum
from math import radians, sin, sqrt

from planning.light.guards import finite, not_negative, positive
from planning.light.optics import magnification

ACCEPTABLE_BLUR_MM = 0.06  # on 36 x 24 mm; NAVEDTRA 14209 table 4-2 implies 0.059-0.077
CRITICAL_BLUR_MM = 0.03  # on 36 x 24 mm; one circle of confusion
STANDARD_GRAVITY_M_S2 = 9.80665


class Movement(StrEnum):
    """What a subject does, with a speed to plan for."""

    STILL = "still"
    STANDING = "standing"
    GESTURING = "gesturing"
    WALKING = "walking"
    RUNNING = "running"
    JUMPING = "jumping"

    @property
    def speed_m_s(self) -> float:
        """Return the speed to plan for, in m/s.

        Source: walking, Bohannon 1997, Age & Ageing (1.2-1.5 m/s, from memory); the
        rest common practice, no source: 0.01 a sitter who holds still and breathes
        (at 85 mm and 2 m about 1/8 s), 0.05 a standing sitter's sway and fidget,
        2.0 hands that talk, 3.5 a running child, 2.5 the rise of a jump.
        """
        return _SPEED_M_S[self]


_SPEED_M_S = {
    Movement.STILL: 0.01,
    Movement.STANDING: 0.05,
    Movement.GESTURING: 2.0,
    Movement.WALKING: 1.4,
    Movement.RUNNING: 3.5,
    Movement.JUMPING: 2.5,
}


def image_speed_mm_s(
    *, speed_m_s: float, angle_deg: float, distance_m: float, focal_length_mm: float
) -> float:
    """Return how fast the subject's image moves over the sensor, in mm/s.

    `angle_deg` is between the path and the lens's axis: 90 crosses, 0 comes on.
    A subject that comes straight on counts as still (its growth is small).
    Source: geometry; m v sin(angle), m = f/(s - f).
    """
    not_negative(speed_m_s=speed_m_s)
    finite(angle_deg=angle_deg)
    scale = magnification(focal_length_mm=focal_length_mm, focus_m=distance_m)
    across = abs(sin(radians(angle_deg))) if angle_deg % 180.0 else 0.0
    return scale * speed_m_s * 1000.0 * across


def freezing_shutter_s(
    *,
    speed_m_s: float,
    angle_deg: float,
    distance_m: float,
    focal_length_mm: float,
    blur_mm: float,
) -> float | None:
    """Return the slowest shutter time, in seconds, that blurs no more than `blur_mm`.

    None: nothing moves across the frame, so there is no limit.
    Limbs move about twice as fast as the body, wing tips more.
    Source: geometry; c/(m v sin(angle)).
    """
    positive(blur_mm=blur_mm)
    speed = image_speed_mm_s(
        speed_m_s=speed_m_s,
        angle_deg=angle_deg,
        distance_m=distance_m,
        focal_length_mm=focal_length_mm,
    )
    return blur_mm / speed if speed else None


def handheld_shutter_s(
    focal_length_mm: float,
    *,
    crop_factor: float = 1.0,
    stabilisation_stops: float = 0.0,
) -> float:
    """Return the slowest shutter time, in seconds, that steady hands hold.

    No cap: advice caps it. Take a maker's rating of stabilisation less one stop.
    Source: the rule 1/f of camera handbooks (125 mm 1/125 s; 300 mm "1/500 s").
    """
    positive(focal_length_mm=focal_length_mm, crop_factor=crop_factor)
    not_negative(stabilisation_stops=stabilisation_stops)
    return float(2.0**stabilisation_stops / (focal_length_mm * crop_factor))


def take_off_speed_m_s(height_m: float) -> float:
    """Return the speed, in m/s, at which a jump of that height leaves the ground.

    Source: mechanics; sqrt(2 g h). It is zero for an instant at the top.
    """
    not_negative(height_m=height_m)
    return sqrt(2.0 * STANDARD_GRAVITY_M_S2 * height_m)


def blur_px(*, blur_mm: float, sensor_width_mm: float, width_px: int) -> float:
    """Return a blur on the sensor in pixels."""
    not_negative(blur_mm=blur_mm)
    positive(sensor_width_mm=sensor_width_mm, width_px=width_px)
    return blur_mm * width_px / sensor_width_mm
