"""Interest on late debts against published figures."""

from datetime import date

import pytest

from invoicing.owed.interest import Rate, compensation, late_interest

# Base rate and 8 points, as the Bank of England had it on 30 June and 31 December.
UK = [
    Rate(from_on=date(2023, 7, 1), basis_points=1_300),
    Rate(from_on=date(2024, 1, 1), basis_points=1_325),
]
# Late Payment of Commercial Debts (Interest) Act 1998, section 5A.
UK_BANDS = [(0, 4_000), (100_000, 7_000), (1_000_000, 10_000)]


def test_the_rate_of_the_due_day_holds_for_the_whole_debt() -> None:
    # 2,400.00 due 15 December 2023, paid 10 February 2024: 57 days at 13.00% and not
    # at 13.25% are 48.72 (the Act, section 4(2); worked by hand).
    owed = late_interest(
        gross_minor=240_000,
        due_on=date(2023, 12, 15),
        to=date(2024, 2, 10),
        paid=[],
        rates=UK,
        is_fixed=True,
    )

    assert (owed.days, owed.minor) == (57, 4_872)
    assert compensation(240_000, UK_BANDS) == 7_000


def test_the_governments_own_example() -> None:
    # GOV.UK, "Late commercial payments: charging interest": 1,000 at 8.5%, 85 a year,
    # 50 days. It rounds a day to 23p and says 11.50; rounded once it is 11.64.
    owed = late_interest(
        gross_minor=100_000,
        due_on=date(2024, 3, 1),
        to=date(2024, 4, 20),
        paid=[],
        rates=[Rate(from_on=date(2000, 1, 1), basis_points=850)],
        is_fixed=True,
    )

    assert (owed.days, owed.minor) == (50, 1_164)


def test_a_part_payment_lowers_the_balance_from_the_next_day() -> None:
    owed = late_interest(
        gross_minor=100_000,
        due_on=date(2026, 1, 31),
        to=date(2026, 2, 20),
        paid=[(date(2026, 2, 10), 60_000)],
        rates=[Rate(from_on=date(2026, 1, 1), basis_points=3_650)],
        is_fixed=True,
    )

    # 0.1% a day: ten days on 1,000.00 are 10.00, ten on 400.00 are 4.00.
    assert [(one.days, one.balance_minor) for one in owed.stretches] == [
        (10, 100_000),
        (10, 40_000),
    ]
    assert owed.minor == 1_400


def test_where_rates_move_each_day_has_its_own() -> None:
    owed = late_interest(
        gross_minor=240_000,
        due_on=date(2023, 12, 15),
        to=date(2024, 2, 10),
        paid=[],
        rates=UK,
        is_fixed=False,
    )

    # 16 days of December at 13.00%: 13.6767; 41 days from January at 13.25%: 35.7205.
    assert [one.days for one in owed.stretches] == [16, 41]
    assert owed.minor == 4_940


@pytest.mark.parametrize(
    ("to", "paid", "rates"),
    [
        (date(2023, 12, 15), [], UK),  # not late yet
        (date(2024, 2, 10), [(date(2023, 12, 1), 240_000)], UK),  # paid in time
        (date(2024, 2, 10), [], []),  # no rate was entered
    ],
)
def test_nothing_is_owed(
    to: date, paid: list[tuple[date, int]], rates: list[Rate]
) -> None:
    owed = late_interest(
        gross_minor=240_000,
        due_on=date(2023, 12, 15),
        to=to,
        paid=paid,
        rates=rates,
        is_fixed=True,
    )

    assert owed.minor == 0


@pytest.mark.parametrize(
    ("debt", "sum_"),
    [(99_999, 4_000), (100_000, 7_000), (999_999, 7_000), (1_000_000, 10_000)],
)
def test_the_fixed_sum_steps_with_the_debt(debt: int, sum_: int) -> None:
    assert compensation(debt, UK_BANDS) == sum_
