"""Many azimuths at once read as each by itself."""

from datetime import date

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planning.sites.heights import ridge_heights
from planning.sites.points import SkyPoint
from planning.sites.skyline import Horizon, Stretch

DEGREES = st.integers(0, 3600).map(lambda tenths: tenths / 10.0)
HEIGHTS = st.integers(0, 600).map(lambda tenths: tenths / 10.0)
STRETCHES = st.builds(
    lambda start, end, height, in_leaf: Stretch(
        from_deg=start,
        to_deg=end,
        height_deg=height,
        leaf_from="04-25" if in_leaf else "",
        leaf_to="11-10" if in_leaf else "",
    ),
    DEGREES,
    DEGREES,
    HEIGHTS,
    st.booleans(),
)
POINTS = st.dictionaries(
    DEGREES, st.tuples(HEIGHTS, st.booleans(), st.booleans()), max_size=5
).map(
    lambda points: tuple(
        SkyPoint(
            azimuth_deg=az,
            height_deg=up,
            measured=measured,
            leaf_from="04-25" if in_leaf else "",
            leaf_to="11-10" if in_leaf else "",
        )
        for az, (up, measured, in_leaf) in sorted(points.items())
    )
)


@given(
    st.lists(STRETCHES, max_size=4).map(tuple), POINTS, POINTS, st.booleans(), DEGREES
)
def test_a_skyline_reads_the_same_at_once_as_one_by_one(
    stretches: tuple[Stretch, ...],
    profile: tuple[SkyPoint, ...],
    marks: tuple[SkyPoint, ...],
    estimated: bool,
    turned_deg: float,
) -> None:
    horizon = Horizon(
        stretches=stretches,
        profile=profile,
        marks=marks,
        estimated=estimated,
        on=date(2027, 1, 20),
    )
    azimuths = (np.linspace(0.0, 350.0, 36) + turned_deg) % 360.0

    heights, errors = ridge_heights(horizon, azimuths)

    for azimuth, height, error in zip(azimuths, heights, errors, strict=True):
        ridge = horizon.at(float(azimuth))
        assert height == pytest.approx(ridge.height_deg if ridge else 0.0)
        if ridge and ridge.height_deg:
            assert error == ridge.error_deg
