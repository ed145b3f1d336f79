"""Moonlight against published values and the exposure table."""

from math import log2

import numpy as np
import pytest

from planning.light.illuminance import moon_lux


def test_a_full_moon_overhead_gives_a_quarter_of_a_lux() -> None:
    # Explanatory Supplement: 0.27 lx at the zenith (published); 0.143 at 40 degrees
    # recomputed from its polynomial.
    assert moon_lux(altitude_deg=90.0, phase_angle_deg=0.0) == pytest.approx(
        0.27, abs=0.005
    )
    assert moon_lux(altitude_deg=40.0, phase_angle_deg=0.0) == pytest.approx(
        0.143, abs=0.001
    )


@pytest.mark.parametrize(
    ("altitude_deg", "lux"),
    [
        (0.0, 0.001621810),
        (2.0, 0.004354311),
        (4.5, 0.009042453),
        (6.0, 0.01221579),
        (12.0, 0.03022384),
        (19.0, 0.05417003),
        (25.0, 0.07656909),
        (50.0, 0.1838245),
        (85.0, 0.2610034),
    ],
)
def test_each_part_of_the_polynomial_is_as_printed(
    altitude_deg: float, lux: float
) -> None:
    # Urban & Seidelmann 2013, p. 518 ff.: worked out from the printed coefficients
    # with decimal logarithms, for a full moon.
    assert moon_lux(altitude_deg=altitude_deg, phase_angle_deg=0.0) == pytest.approx(
        lux, rel=2e-5
    )


def test_a_quarter_moon_gives_a_ninth_of_it() -> None:
    # Explanatory Supplement, recomputed: 0.0169 lx at 40 degrees and phase angle 90.
    assert moon_lux(altitude_deg=40.0, phase_angle_deg=90.0) == pytest.approx(
        0.0169, abs=0.0001
    )


@pytest.mark.parametrize(
    ("phase_angle_deg", "exposure_value"), [(0.0, -3.0), (45.0, -4.0), (90.0, -6.0)]
)
def test_landscapes_by_moonlight_match_the_exposure_table(
    phase_angle_deg: float, exposure_value: float
) -> None:
    # ANSI PH2.7-1986 as reprinted: full -3 to -2, gibbous -4, quarter -6. Within a
    # stop, as the moon's height is not said (common practice).
    lux = moon_lux(altitude_deg=70.0, phase_angle_deg=phase_angle_deg)

    assert log2(lux / 2.5) == pytest.approx(exposure_value, abs=1.0)


def test_moonlight_has_no_step_and_no_floor() -> None:
    altitudes = np.arange(-1_800, 9_001) / 100.0

    lux = moon_lux(altitude_deg=altitudes, phase_angle_deg=20.0)

    assert np.abs(np.diff(np.log2(lux))).max() < 0.05
    # The polynomial's parts meet with dips of up to 0.02 stop.
    assert np.diff(np.log2(lux)).min() > -0.02
    assert lux[0] < 1e-8


def test_a_nearer_moon_gives_more_and_a_thinner_one_less() -> None:
    near, far = (
        moon_lux(altitude_deg=40.0, phase_angle_deg=10.0, horizontal_parallax_deg=one)
        for one in (1.0, 0.9)
    )
    phases = moon_lux(
        altitude_deg=np.full(181, 40.0), phase_angle_deg=np.arange(0.0, 181.0)
    )

    assert near / far == pytest.approx((1.0 / 0.9) ** 2)
    assert phases.shape == (181,)
    assert (np.diff(phases) < 0.0).all()


@pytest.mark.parametrize(
    ("altitude_deg", "phase_angle_deg", "parallax_deg"),
    [(91.0, 0.0, 0.95), (0.0, -1.0, 0.95), (0.0, 181.0, 0.95), (0.0, 0.0, 0.0)],
)
def test_what_cannot_be_is_refused(
    altitude_deg: float, phase_angle_deg: float, parallax_deg: float
) -> None:
    with pytest.raises(ValueError, match="outside"):
        moon_lux(
            altitude_deg=altitude_deg,
            phase_angle_deg=phase_angle_deg,
            horizontal_parallax_deg=parallax_deg,
        )
