"""A quick look that the finder keeps its speed; `tests.bench.finder` measures.

The bound is twice as loose as the goal, so that a busy machine does not fail it.
"""

from tests.bench import finder
from tests.bench.pairwise import in_turn, ratio


def test_a_year_searched_costs_little_more_than_its_trigonometry() -> None:
    samples = in_turn(finder.YEAR, rounds=3)

    assert ratio(samples, "a year searched", "trigonometry").median < 20.0
    assert finder.a_year() > 0
