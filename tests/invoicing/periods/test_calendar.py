from datetime import date, timedelta

import pytest

from invoicing.periods.calendar import Span, before, period_of


@pytest.mark.parametrize(
    ("on", "months", "first_month", "expected"),
    [
        # calendar quarters
        (date(2026, 11, 28), 3, 1, Span(date(2026, 10, 1), date(2026, 12, 31))),
        # quarters that begin in February, May, August, November, across the new year
        (date(2027, 1, 5), 3, 2, Span(date(2026, 11, 1), date(2027, 1, 31))),
        # a year that begins in April
        (date(2026, 3, 31), 12, 4, Span(date(2025, 4, 1), date(2026, 3, 31))),
        # a leap February
        (date(2028, 2, 10), 1, 1, Span(date(2028, 2, 1), date(2028, 2, 29))),
    ],
)
def test_a_day_lies_in_its_period(
    on: date, months: int, first_month: int, expected: Span
) -> None:
    assert period_of(on, months=months, first_month=first_month) == expected


@pytest.mark.parametrize("months", [1, 3, 12])
@pytest.mark.parametrize("first_month", [1, 4, 11])
def test_periods_follow_one_another_without_a_gap(
    months: int, first_month: int
) -> None:
    span = period_of(date(2026, 6, 15), months=months, first_month=first_month)
    for _ in range(20):
        earlier = before(span, months=months)
        assert earlier.last + timedelta(days=1) == span.first
        assert earlier == period_of(
            earlier.first, months=months, first_month=first_month
        )
        span = earlier


def test_a_length_that_does_not_fit_into_a_year_is_refused() -> None:
    with pytest.raises(ValueError, match="5 months"):
        period_of(date(2026, 1, 1), months=5, first_month=1)


def test_a_period_is_named_in_words() -> None:
    assert Span(date(2026, 7, 1), date(2026, 9, 30)).name == "July to September 2026"
    assert Span(date(2026, 2, 1), date(2026, 2, 28)).name == "February 2026"
    assert (
        Span(date(2026, 11, 1), date(2027, 1, 31)).name
        == "November 2026 to January 2027"
    )
