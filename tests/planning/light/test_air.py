"""Refraction and air mass against published values."""

import numpy as np
import pytest

from planning.light.air import air_mass, refraction_deg


def test_refraction_matches_the_published_example() -> None:
    # Meeus, Astronomical Algorithms, 2nd ed. (1998), example 16.a, p. 107: the sun's
    # upper limb at a true altitude of 33.246 arc minutes is lifted by 24.618.
    lift_arcmin = 60.0 * refraction_deg(np.array([33.246 / 60.0]))

    assert lift_arcmin[0] == pytest.approx(24.618, abs=0.0005)


def test_refraction_undoes_the_formula_for_seen_altitudes() -> None:
    # Bennett 1982, as Meeus eq. 16.3: R = 1 / tan(h0 + 7.31 / (h0 + 4.4)).
    true = np.linspace(0.0, 85.0, 200)
    seen = true + refraction_deg(true)

    bennett_arcmin = 1.0 / np.tan(np.radians(seen + 7.31 / (seen + 4.4)))

    assert 60.0 * refraction_deg(true) == pytest.approx(bennett_arcmin, abs=0.1)


@pytest.mark.parametrize(
    ("altitude_deg", "mass"),
    [(90.0, 0.9997), (60.0, 1.154), (30.0, 1.994), (10.0, 5.586), (5.0, 10.306)],
)
def test_air_mass_matches_its_table(altitude_deg: float, mass: float) -> None:
    # Kasten & Young 1989, Applied Optics 28(22) 4735; recomputed from the formula.
    assert air_mass(np.array([altitude_deg]))[0] == pytest.approx(mass, rel=0.001)


def test_air_mass_at_the_horizon_is_thirty_eight() -> None:
    # Kasten & Young 1989: 37.92 at the horizon, 26.31 one degree above.
    masses = air_mass(np.array([0.0, 1.0]))

    assert masses == pytest.approx([37.92, 26.31], rel=0.001)
