"""A year's figures, each worked by hand beside its check."""

from dataclasses import replace
from datetime import date

import pytest

from invoicing.books.accounts import Account
from invoicing.books.facts import Facts, OwnerFact, PaperFact, PaymentFact, PurchaseFact
from invoicing.years.figures import Own, YearFigures, year_figures, year_of
from tests.invoicing.books.facts_of import rate_sum

# 6 April to 5 April: the tax year of the United Kingdom (Income Tax Act 2007, s 4)
YEAR = year_of(date(2026, 9, 1), month=4, day=6)
LAST, AFTER = date(2027, 4, 5), date(2027, 4, 6)


def paper(number: str, minor: int, *, is_ahead: bool = False) -> PaperFact:
    return PaperFact(
        pk=1,
        number=number,
        party="Brass band",
        tax_point_on=date(2026, 3, 1),
        rows=(rate_sum(0, minor, 0),),
        is_ahead=is_ahead,
    )


def paid(
    pk: int, minor: int, on: date, *shares: tuple[str, int], back: date | None = None
) -> PaymentFact:
    return PaymentFact(
        pk=pk,
        party="Brass band",
        on=on,
        amount_minor=minor,
        method="TRANSFER",
        shares=shares,
        reversed_on=back,
    )


def bought(
    pk: int,
    kind: str,
    minor: int,
    on: date | None,
    *,
    paid_from: str = "BANK",
    private_minor: int = 0,
) -> PurchaseFact:
    return PurchaseFact(
        pk=pk,
        supplier="Print house",
        kind=kind,
        bought_on=date(2026, 4, 1),
        paid_on=on,
        paid_from=paid_from,
        net_minor=minor,
        tax_minor=0,
        private_minor=private_minor,
    )


FACTS = Facts(
    currency="GBP",
    papers=(paper("1", 50_000), paper("2", 10_000, is_ahead=True)),
    payments=(
        paid(1, 30_000, date(2026, 4, 5), ("1", 30_000)),  # the year before
        paid(2, 20_000, LAST, ("1", 19_000)),  # 10.00 settles nothing yet
        paid(3, 10_000, date(2026, 5, 1), ("2", 10_000), back=date(2026, 5, 9)),
        paid(4, 9_000, date(2026, 5, 9), ("2", 9_000)),
        paid(5, -500, date(2026, 6, 1)),  # paid back
        paid(6, 7_000, AFTER, ("1", 7_000)),
    ),
    purchases=(
        bought(1, "MATERIALS", 12_000, date(2026, 4, 6), private_minor=3_000),
        bought(2, "MATERIALS", 1_000, None),
        bought(3, "TRAVEL", 960, LAST, paid_from="OWN"),
        bought(4, "MILEAGE", 810, LAST, paid_from="OWN"),  # 18 miles at 0.45
        bought(5, "OTHER", 500, AFTER),
    ),
    own=(
        OwnerFact(pk=1, on=LAST, amount_minor=-40_000, moved_by="BANK"),
        OwnerFact(pk=2, on=LAST, amount_minor=15_000, moved_by="BANK"),
        OwnerFact(pk=3, on=AFTER, amount_minor=-100, moved_by="CASH"),
    ),
)


@pytest.fixture
def year() -> YearFigures:
    return year_figures(FACTS, YEAR)


def sums(year: YearFigures) -> dict[object, int]:
    return {figure.of: figure.minor for figure in year.figures}


def test_income_counts_on_the_day_it_came(year: YearFigures) -> None:
    found = sums(year)

    assert found[Account.SALES] == 19_000
    assert found[Account.DEPOSITS] == 10_000 - 10_000 + 9_000
    assert found[Account.ON_ACCOUNT] == 1_000 - 500
    assert year.income_minor == 28_500


def test_costs_count_when_paid_without_their_private_share(year: YearFigures) -> None:
    found = sums(year)

    assert found[Account.MATERIALS] == 12_000 - 3_000
    assert (found[Account.TRAVEL], found[Account.MILEAGE]) == (960, 810)
    assert Account.OTHER not in found
    assert year.costs_minor == 10_770
    assert year.profit_minor == 28_500 - 10_770


def test_own_money_is_neither_cost_nor_income(year: YearFigures) -> None:
    found = sums(year)

    assert found[Own.OUT] == 40_000
    assert found[Own.IN] == 15_000
    assert found[Own.POCKET] == 960 + 810
    assert found[Own.PRIVATE] == 3_000


def test_the_years_follow_one_another_without_a_gap(year: YearFigures) -> None:
    after = year_figures(FACTS, year_of(AFTER, month=4, day=6))
    before = year_figures(FACTS, year_of(date(2026, 4, 5), month=4, day=6))

    assert (year.span.first, year.span.last) == (date(2026, 4, 6), LAST)
    assert before.income_minor == 30_000
    assert (after.income_minor, after.costs_minor) == (7_000, 500)


def test_a_year_from_march_ends_with_the_leap_day() -> None:
    span = year_of(date(2028, 2, 29), month=3, day=1)

    assert (span.first, span.last) == (date(2027, 3, 1), date(2028, 2, 29))
    with pytest.raises(ValueError, match="29 February"):
        year_of(date(2028, 3, 1), month=2, day=29)


def test_a_voucher_counts_once_when_it_is_sold() -> None:
    sold = replace(paid(7, 20_000, LAST), voucher="V-1")
    used = replace(
        paid(8, 20_000, LAST, ("1", 20_000)), voucher="V-1", method="VOUCHER"
    )

    year = year_figures(replace(FACTS, payments=(sold, used)), YEAR)

    assert year.income_minor == 20_000
    assert sums(year)[Account.VOUCHERS] == 20_000
