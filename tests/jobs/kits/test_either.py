"""A different thing for each position. Worked by hand."""

import pytest

from jobs.kits.either import one_for_each


@pytest.mark.parametrize(
    ("positions", "chosen"),
    [
        ([], []),
        (["AB"], ["A"]),
        (["AB", "AB"], ["A", "B"]),
        (["AB", "A"], ["B", "A"]),
        (["AB", "BC", "A"], ["B", "C", "A"]),
        (["AB", "AB", "AB"], ["A", "B", None]),
        (["", "A"], [None, "A"]),
    ],
)
def test_the_first_that_is_left_unless_another_position_needs_it(
    positions: list[str], chosen: list[str | None]
) -> None:
    assert one_for_each(positions) == chosen
