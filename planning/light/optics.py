"""What a lens draws sharp and how large: a thin, symmetric lens.

Distances run from the lens's front principal plane; lenses are marked from the sensor,
which matters below some ten focal lengths. Good to 1 % of the formula, 20 % of reality:
the circle of confusion is a convention. Where a function needs magnification it takes
it from m = f/(s - f).
"""

from dataclasses import dataclass
from math import atan, degrees, hypot, inf, isfinite, isinf

from planning.light.guards import not_negative, positive

FULL_FRAME_DIAGONAL_MM = hypot(36.0, 24.0)
DIFFRACTION_FACTOR = 2.44  # first dark ring of the Airy pattern, its diameter


@dataclass(frozen=True, slots=True, kw_only=True)
class DepthOfField:
    """The zone drawn sharp, in metres; `inf` where it has no far end."""

    near_m: float
    far_m: float
    total_m: float
    hyperfocal_m: float


def depth_of_field(
    *,
    focal_length_mm: float,
    f_number: float,
    focus_m: float,
    circle_of_confusion_mm: float,
) -> DepthOfField:
    """Return the zone that stays within the circle of confusion.

    Shape: scalars in. Units: millimetres, metres as named; metres out.
    `far_m` and `total_m` are `inf` from the hyperfocal distance on.
    ValueError where the focus lies inside the focal length.
    Source: geometrical optics; near = s f^2/(f^2 + N c (s - f)), far with a minus.
    """
    hyperfocal = hyperfocal_m(
        focal_length_mm=focal_length_mm,
        f_number=f_number,
        circle_of_confusion_mm=circle_of_confusion_mm,
    )
    _focused_outside(focal_length_mm=focal_length_mm, focus_m=focus_m)
    focal_m = focal_length_mm / 1000.0
    reach, extension = hyperfocal - focal_m, focus_m - focal_m  # reach = f^2 / (N c)
    near = focus_m * reach / (reach + extension)
    far = focus_m * reach / (reach - extension) if extension < reach else inf
    return DepthOfField(
        near_m=near, far_m=far, total_m=far - near, hyperfocal_m=hyperfocal
    )


def hyperfocal_m(
    *, focal_length_mm: float, f_number: float, circle_of_confusion_mm: float
) -> float:
    """Return the nearest focus, in metres, that keeps infinity sharp.

    Source: geometrical optics; H = f^2/(N c) + f.
    """
    positive(
        focal_length_mm=focal_length_mm,
        f_number=f_number,
        circle_of_confusion_mm=circle_of_confusion_mm,
    )
    reach_mm = focal_length_mm**2 / (f_number * circle_of_confusion_mm)
    return (reach_mm + focal_length_mm) / 1000.0


def circle_of_confusion_mm(
    *, sensor_width_mm: float, sensor_height_mm: float, divisor: float = 1500.0
) -> float:
    """Return the largest blur, in millimetres, that still passes for a point.

    A convention: the sensor's diagonal over 1500, seen in a whole print.
    """
    positive(divisor=divisor)
    return _diagonal_mm(sensor_width_mm, sensor_height_mm) / divisor


def crop_factor(*, sensor_width_mm: float, sensor_height_mm: float) -> float:
    """Return how many times smaller than 36 x 24 mm the sensor's diagonal is."""
    return FULL_FRAME_DIAGONAL_MM / _diagonal_mm(sensor_width_mm, sensor_height_mm)


def field_of_view_deg(
    *, focal_length_mm: float, sensor_side_mm: float, focus_m: float | None = None
) -> float:
    """Return the angle that one side of the sensor sees, in degrees.

    `focus_m` None is infinity. Source: 2 atan(d/(2 f (1 + m))).
    """
    positive(focal_length_mm=focal_length_mm, sensor_side_mm=sensor_side_mm)
    stretch = 1.0
    if focus_m is not None and not isinf(focus_m):
        stretch += magnification(focal_length_mm=focal_length_mm, focus_m=focus_m)
    return degrees(2.0 * atan(sensor_side_mm / (2.0 * focal_length_mm * stretch)))


def framing_distance_m(
    *, focal_length_mm: float, sensor_side_mm: float, subject_side_m: float
) -> float:
    """Return the distance in metres from which the subject fills that side.

    Source: s = f (1 + subject/sensor).
    """
    positive(
        focal_length_mm=focal_length_mm,
        sensor_side_mm=sensor_side_mm,
        subject_side_m=subject_side_m,
    )
    ratio = subject_side_m * 1000.0 / sensor_side_mm
    return focal_length_mm * (1.0 + ratio) / 1000.0


def background_blur_mm(
    *, focal_length_mm: float, f_number: float, focus_m: float, object_m: float
) -> float:
    """Return the diameter on the sensor of a point's blur, in millimetres.

    `object_m` is the point's distance and may be `inf`.
    Source: f^2/(N (s - f)) |D - s|/D; f m/N at infinity.
    """
    positive(f_number=f_number)
    if not object_m > 0.0:
        raise ValueError(f"object_m must be above zero, not {object_m}")
    scale = magnification(focal_length_mm=focal_length_mm, focus_m=focus_m)
    defocus = abs(object_m - focus_m) / object_m if isfinite(object_m) else 1.0
    return focal_length_mm * scale / f_number * defocus


def airy_diameter_um(
    f_number: float, *, magnification: float = 0.0, wavelength_um: float = 0.55
) -> float:
    """Return the diameter that diffraction gives a point, in micrometres.

    Source: 2.44 lambda N (1 + m), to the first dark ring.
    """
    positive(f_number=f_number, wavelength_um=wavelength_um)
    not_negative(magnification=magnification)
    return DIFFRACTION_FACTOR * wavelength_um * f_number * (1.0 + magnification)


def magnification(*, focal_length_mm: float, focus_m: float) -> float:
    """Return the image's size over the subject's: m = f/(s - f)."""
    positive(focal_length_mm=focal_length_mm)
    _focused_outside(focal_length_mm=focal_length_mm, focus_m=focus_m)
    return focal_length_mm / (focus_m * 1000.0 - focal_length_mm)


def zone_focus_m(*, near_m: float, far_m: float) -> float:
    """Return where to focus, in metres, to hold a span with the widest aperture.

    The harmonic mean of both ends, a little nearer than the middle; twice the near end
    where the far one is `inf`. Source: near and far of the sharp zone set to the ends.
    """
    positive(near_m=near_m)
    if not far_m >= near_m:
        raise ValueError(f"far_m {far_m} is nearer than near_m {near_m}")
    return 2.0 / (1.0 / near_m + 1.0 / far_m)


def zone_f_number(
    *,
    focal_length_mm: float,
    near_m: float,
    far_m: float,
    circle_of_confusion_mm: float,
) -> float:
    """Return the f-number, exact, that just holds a span; 0 for a span of no depth.

    The focus is at `zone_focus_m`. Source: near = s f^2/(f^2 + N c (s - f)) for N.
    """
    positive(circle_of_confusion_mm=circle_of_confusion_mm)
    focus = zone_focus_m(near_m=near_m, far_m=far_m)
    scale = magnification(focal_length_mm=focal_length_mm, focus_m=focus)
    spread = max(focus / near_m - 1.0, 0.0)
    return focal_length_mm * scale * spread / circle_of_confusion_mm


def _diagonal_mm(sensor_width_mm: float, sensor_height_mm: float) -> float:
    positive(sensor_width_mm=sensor_width_mm, sensor_height_mm=sensor_height_mm)
    return hypot(sensor_width_mm, sensor_height_mm)


def _focused_outside(*, focal_length_mm: float, focus_m: float) -> None:
    positive(focus_m=focus_m)
    if focus_m * 1000.0 <= focal_length_mm:
        raise ValueError(
            f"focus_m {focus_m} is inside the focal length of {focal_length_mm} mm"
        )
