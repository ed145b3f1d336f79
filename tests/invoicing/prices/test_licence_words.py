"""Usage licences: their words and their last day."""

from datetime import date

import pytest

from invoicing.prices.licences import licence_words, runs_out_on


def test_a_licence_says_who_where_and_how_long() -> None:
    words = licence_words(who="Rook Hall", where="website and brochure, UK", months=24)

    assert words == "Rook Hall, website and brochure, UK, two years from delivery"
    assert licence_words(who="", where="press", months=None) == "press, without an end"
    assert licence_words(who="", where="", months=18) == "18 months from delivery"


@pytest.mark.parametrize(
    ("delivered", "months", "last"),
    [
        # Counted on a calendar by hand; the day before the same day of the month.
        (date(2027, 10, 14), 24, date(2029, 10, 13)),
        (date(2027, 1, 1), 12, date(2027, 12, 31)),
        (date(2027, 1, 31), 1, date(2027, 2, 28)),
        (date(2028, 2, 29), 12, date(2029, 2, 28)),
        (date(2028, 1, 30), 1, date(2028, 2, 29)),
        (date(2027, 12, 31), 2, date(2028, 2, 29)),
    ],
)
def test_a_licence_runs_out_the_day_before_its_months_are_over(
    delivered: date, months: int, last: date
) -> None:
    assert runs_out_on(delivered, months) == last
