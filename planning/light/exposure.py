"""Light, settings and the exposure value that joins them; always at ISO 100."""

from math import log2, sqrt

from planning.light.guards import finite, not_negative, positive
from planning.light.scales import (
    APERTURE_FULL,
    APERTURE_HALVES,
    APERTURE_THIRDS,
    ISO_FULL,
    ISO_HALVES,
    ISO_THIRDS,
    SHUTTER_FULL,
    SHUTTER_HALVES,
    SHUTTER_THIRDS,
    Scale,
    Stop,
)

__all__ = [
    "APERTURE_FULL",
    "APERTURE_HALVES",
    "APERTURE_THIRDS",
    "INCIDENT_CALIBRATION",
    "ISO_FULL",
    "ISO_HALVES",
    "ISO_THIRDS",
    "REFLECTED_CALIBRATION",
    "SHUTTER_FULL",
    "SHUTTER_HALVES",
    "SHUTTER_THIRDS",
    "Scale",
    "Stop",
    "exposure_value",
    "exposure_value_from_luminance",
    "exposure_value_from_lux",
    "f_number_for",
    "iso_for",
    "lux_from_exposure_value",
    "shutter_for",
]

INCIDENT_CALIBRATION = 250.0  # C in lx s, flat receptor; ISO 2720 allows 240 to 400
REFLECTED_CALIBRATION = 12.5  # K in cd s/m2; ISO 2720 allows 10.6 to 13.4


def exposure_value_from_lux(
    lux: float, *, calibration: float = INCIDENT_CALIBRATION
) -> float | None:
    """Return the exposure value that light falling on the subject asks for.

    Shape: scalars in, scalar out. Units: lux, lx s; stops at ISO 100 out.
    None for 0 lx; ValueError for a negative one.
    Error: the calibration is a convention (250 flat, 320 to 340 under a dome).
    Source: ISO 2720:1974, incident light: N^2/t = E S/C.
    """
    not_negative(lux=lux)
    positive(calibration=calibration)
    return log2(lux * 100.0 / calibration) if lux else None


def exposure_value_from_luminance(
    luminance_cd_m2: float, *, calibration: float = REFLECTED_CALIBRATION
) -> float | None:
    """Return the exposure value that a surface of some brightness asks for.

    Shape: scalars in, scalar out. Units: cd/m2, cd s/m2; stops at ISO 100 out.
    None for 0 cd/m2; ValueError for a negative one.
    Source: ISO 2720:1974, reflected light: N^2/t = L S/K.
    """
    not_negative(luminance_cd_m2=luminance_cd_m2)
    positive(calibration=calibration)
    return log2(luminance_cd_m2 * 100.0 / calibration) if luminance_cd_m2 else None


def lux_from_exposure_value(
    exposure_value: float, *, calibration: float = INCIDENT_CALIBRATION
) -> float:
    """Return the light on the subject, in lux, that an exposure value suits."""
    finite(exposure_value=exposure_value)
    positive(calibration=calibration)
    return float(calibration / 100.0 * 2.0**exposure_value)


def exposure_value(*, f_number: float, shutter_s: float, iso: float) -> float:
    """Return the exposure value at ISO 100 that these settings suit, in stops.

    Source: EV = log2(N^2/t) - log2(S/100).
    """
    positive(f_number=f_number, shutter_s=shutter_s, iso=iso)
    return 2.0 * log2(f_number) - log2(shutter_s) - log2(iso / 100.0)


def shutter_for(*, exposure_value: float, f_number: float, iso: float) -> float:
    """Return the shutter time in seconds, exact, that completes the settings."""
    positive(f_number=f_number, iso=iso)
    return f_number**2 / _rate(exposure_value=exposure_value, iso=iso)


def f_number_for(*, exposure_value: float, shutter_s: float, iso: float) -> float:
    """Return the f-number, exact, that completes the settings."""
    positive(shutter_s=shutter_s, iso=iso)
    return sqrt(shutter_s * _rate(exposure_value=exposure_value, iso=iso))


def iso_for(*, exposure_value: float, f_number: float, shutter_s: float) -> float:
    """Return the ISO speed, exact, that completes the settings."""
    positive(f_number=f_number, shutter_s=shutter_s)
    return f_number**2 / shutter_s / _rate(exposure_value=exposure_value, iso=1.0)


def _rate(*, exposure_value: float, iso: float) -> float:
    finite(exposure_value=exposure_value)
    return float(2.0**exposure_value * iso / 100.0)
