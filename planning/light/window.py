"""Daylight through a window under an overcast sky.

Good to a stop, half a stop once one incident reading has scaled it. The beam of the
sun and light from the opposite houses are not in it.
"""

from math import pi, radians, sin

from planning.light.guards import fraction, not_negative, positive

CIE_OVERCAST_MEAN = 7.0 / 9.0  # horizontal light over pi times the zenith's luminance


def average_daylight_factor_pct(
    *,
    window_m2: float,
    transmittance: float,
    sky_angle_deg: float,
    maintenance: float,
    room_surface_m2: float,
    mean_reflectance: float,
) -> float:
    """Return the mean light on a room's working plane, in percent of that outdoors.

    Units: net glass area and all inner surfaces in m2; the visible sky's angle from
    the window's centre in degrees (not radians). Not the light on a face.
    Source: Crisp & Littlefair 1984; T W theta M/(A (1 - R^2)).
    """
    not_negative(window_m2=window_m2)
    positive(room_surface_m2=room_surface_m2)
    fraction(transmittance=transmittance, maintenance=maintenance)
    if not 0.0 <= sky_angle_deg <= 180.0:
        raise ValueError(f"sky_angle_deg must lie within 0 to 180, not {sky_angle_deg}")
    if not 0.0 <= mean_reflectance < 1.0:
        raise ValueError(
            f"mean_reflectance must lie within 0 and below 1, not {mean_reflectance}"
        )
    passed = window_m2 * transmittance * maintenance * sky_angle_deg
    return passed / (room_surface_m2 * (1.0 - mean_reflectance**2))


def overcast_window_lux(
    *,
    outdoor_horizontal_lux: float,
    transmittance: float,
    factor: float,
    mean_sky_elevation_deg: float,
) -> float:
    """Return the light in lux that a window gives a face under an overcast sky.

    `factor` is the configuration factor from the face to the glass
    (`fill.rectangle_factor`); the sky seen has the brightness of the CIE overcast sky
    at the mean elevation of the visible patch.
    Source: CIE overcast sky, L = Lz (1 + 2 sin g)/3, E = 7 pi Lz/9; then t pi L F.
    """
    not_negative(outdoor_horizontal_lux=outdoor_horizontal_lux)
    fraction(transmittance=transmittance, factor=factor)
    if not 0.0 <= mean_sky_elevation_deg <= 90.0:
        raise ValueError(
            f"mean_sky_elevation_deg must lie within 0 to 90, "
            f"not {mean_sky_elevation_deg}"
        )
    zenith_cd_m2 = outdoor_horizontal_lux / (pi * CIE_OVERCAST_MEAN)
    slope = (1.0 + 2.0 * sin(radians(mean_sky_elevation_deg))) / 3.0
    return transmittance * pi * zenith_cd_m2 * slope * factor
