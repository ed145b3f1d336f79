"""A quick look that the light keeps its speed; `python -m tests.bench.light` measures.

The bounds are twice as loose as the goals, so that a busy machine does not fail them.
"""

import numpy as np

from planning.light.almanac import sun_events
from planning.light.sun import sun_position
from tests.bench import light
from tests.bench.pairwise import in_turn, ratio


def test_a_year_of_positions_and_light_costs_little_more_than_its_trigonometry() -> (
    None
):
    samples = in_turn(light.POSITIONS, rounds=2)

    assert ratio(samples, "positions by SPA", "positions").median > 30.0
    assert ratio(samples, "positions", "trigonometry alone").median < 4.0
    assert ratio(samples, "positions, nothing kept", "trigonometry alone").median < 4.0
    assert ratio(samples, "light on a subject", "trigonometry alone").median < 20.0


def test_a_year_of_events_is_quicker_than_pvlib_and_ephem() -> None:
    samples = in_turn(light.EVENTS, rounds=2)

    assert ratio(samples, "three a day by SPA", "sun events").median > 1.5
    assert ratio(samples, "eight a day by ephem", "sun events").median > 10.0


def test_none_of_a_years_events_is_missing() -> None:
    # As many as ephem finds by its own search.
    table = sun_events(
        latitude_deg=light.LATITUDE_DEG,
        longitude_deg=light.LONGITUDE_DEG,
        first_on=light.FIRST_ON,
        days=light.DAYS,
        tz=light.CLOCK,
    )

    noons = light.DAYS
    assert np.count_nonzero(~np.isnat(table)) - noons == light.events_by_ephem()


def test_the_years_by_others_are_the_same_year() -> None:
    # A ratio says nothing unless both sides worked out the same thing.
    ours = sun_position(
        latitude_deg=light.LATITUDE_DEG,
        longitude_deg=light.LONGITUDE_DEG,
        at=light.YEAR_US,
    )

    by_ephem = np.degrees([altitude for altitude, _ in light.positions_by_ephem()])
    by_spa = 90.0 - light.positions_by_spa()[1]

    assert np.abs(by_ephem - ours.altitude_deg).max() < 0.002
    assert np.abs(by_spa - ours.altitude_deg).max() < 0.002
