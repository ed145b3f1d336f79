"""Money. Figures by hand unless a source is named."""

from decimal import Decimal, localcontext
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from studio.errors import DomainError
from studio.money import (
    CurrencyMismatchError,
    Money,
    Rounding,
    allocate,
    exponent,
    largest_remainder,
    sum_money,
)


def euros(amount: str) -> Money:
    return Money(Decimal(amount), "EUR")


@pytest.mark.parametrize(
    ("currency", "digits"),
    [
        # ISO 4217, list one (from memory).
        ("EUR", 2),
        ("GBP", 2),
        ("RSD", 2),
        ("ALL", 2),
        ("LBP", 2),
        ("MGA", 2),
        ("HUF", 2),
        ("JPY", 0),
        ("KRW", 0),
        ("CLP", 0),
        ("ISK", 0),
        ("KWD", 3),
        ("BHD", 3),
        ("OMR", 3),
        ("TND", 3),
        ("JOD", 3),
        ("IQD", 3),
        ("LYD", 3),
        ("CLF", 4),
    ],
)
def test_a_currency_has_the_digits_of_iso_4217(currency: str, digits: int) -> None:
    assert exponent(currency) == digits
    assert Money.from_minor(1, currency).amount == Decimal(1).scaleb(-digits)


@pytest.mark.parametrize("code", ["", "eur", "EURO", "XAU", "XTS", "ZZZ"])
def test_a_code_without_minor_units_is_refused(code: str) -> None:
    with pytest.raises(ValueError, match=repr(code)):
        Money(Decimal(1), code)


@pytest.mark.parametrize(
    ("amount", "currency"), [("0.5", "JPY"), ("0.001", "EUR"), ("0.0001", "KWD")]
)
def test_money_keeps_to_the_minor_unit_of_its_currency(
    amount: str, currency: str
) -> None:
    with pytest.raises(ValueError, match=f"{amount} is finer than {currency}"):
        Money(Decimal(amount), currency)


@pytest.mark.parametrize(
    "amount",
    [
        1.5,
        True,
        "1",
        None,
        Decimal("NaN"),
        Decimal("-Infinity"),
        Decimal("1E+30"),
        Decimal("1E+999999"),
        Decimal("1E-61"),
        Decimal("0E+61"),
        10**30,
        -(10**30),
    ],
    ids=str,
)
def test_money_refuses_what_is_not_an_exact_number(amount: Any) -> None:
    with pytest.raises(ValueError, match="the amount"):
        Money(amount, "EUR")
    with pytest.raises(ValueError, match="the amount"):
        Money.rounded(amount, "EUR")


def test_money_takes_figures_of_thirty_digits() -> None:
    most = 10**30 - 1

    assert Money(Decimal(most), "EUR").minor == most * 100
    assert Money.rounded(Decimal("1E-60"), "EUR") == Money.zero("EUR")
    assert Money(Decimal("0E+60"), "EUR") == Money.zero("EUR")


def test_money_shows_all_its_digits() -> None:
    assert str(Money(Decimal("1E+3"), "EUR")) == "1,000.00 EUR"
    assert str(Money(Decimal(-1234567), "JPY")) == "-1,234,567 JPY"
    assert str(Money(Decimal("2.5"), "KWD").amount) == "2.500"
    assert str(Money.from_minor(5, "EUR").amount) == "0.05"


def test_money_counts_in_minor_units() -> None:
    assert euros("-12.34").minor == -1234
    assert Money.from_minor(-1234, "EUR") == euros("-12.34")
    assert Money.from_minor(1234, "JPY").minor == 1234
    assert Money.from_minor(1234, "KWD").amount == Decimal("1.234")
    with pytest.raises(ValueError, match=r"1\.5"):
        Money.from_minor(Decimal("1.5"), "EUR")  # type: ignore[arg-type]
    with pytest.raises(ValueError, match=r"2\.0"):
        Money.from_minor(2.0, "EUR")  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("exact", "away", "down", "cut"),
    [
        ("1.005", "1.01", "1.00", "1.00"),
        ("2.665", "2.67", "2.66", "2.66"),
        ("-0.125", "-0.13", "-0.12", "-0.12"),
        ("0.1251", "0.13", "0.13", "0.12"),
        ("0.1249", "0.12", "0.12", "0.12"),
        ("-0.999", "-1.00", "-1.00", "-0.99"),
        ("0.00", "0.00", "0.00", "0.00"),
    ],
)
def test_money_is_rounded_by_name(exact: str, away: str, down: str, cut: str) -> None:
    # Half away from zero is the rule of EN 16931's own checks, which round abs(...);
    # half down that of New Zealand's GST Act 1985, s 19O; cut off that of the UK's
    # Notice 700, 17.5.
    figure = Decimal(exact)

    assert Money.rounded(figure, "EUR") == euros(away)
    assert Money.rounded(figure, "EUR", rounding=Rounding.HALF_DOWN) == euros(down)
    assert Money.rounded(figure, "EUR", rounding=Rounding.DOWN) == euros(cut)


def test_money_is_rounded_to_the_digits_of_its_currency() -> None:
    assert Money.rounded(Decimal("0.5"), "JPY").minor == 1
    assert Money.rounded(Decimal("0.0005"), "KWD").minor == 1
    assert Money.rounded(Fraction(2, 3), "EUR") == euros("0.67")


def test_money_is_added_and_taken_away() -> None:
    assert euros("1.10") + euros("2.20") == euros("3.30")
    assert euros("1.10") - euros("2.20") == euros("-1.10")
    assert -euros("1.10") == euros("-1.10")
    assert abs(euros("-1.10")) == abs(euros("1.10")) == euros("1.10")


def test_money_of_two_currencies_does_not_mix() -> None:
    euro, yen = euros("1"), Money(Decimal(1), "JPY")

    for mix in (
        lambda: euro + yen,
        lambda: euro - yen,
        lambda: euro < yen,
        lambda: euro >= yen,
        lambda: sum_money([euro, yen], currency="EUR"),
    ):
        with pytest.raises(CurrencyMismatchError, match=r"1\.00 EUR and 1 JPY"):
            mix()
    assert euro != yen
    assert issubclass(CurrencyMismatchError, DomainError)


def test_money_is_compared_by_amount() -> None:
    assert euros("1.00") < euros("1.01") <= euros("1.01")
    assert euros("-1.00") > euros("-1.01") >= euros("-1.01")
    assert not euros("1.00") < euros("1.00")
    assert euros("1") == euros("1.00")
    assert len({euros("1"), euros("1.00")}) == 1
    assert max(euros("9.00"), euros("10.00")) == euros("10.00")


def test_money_is_not_multiplied_without_a_word_on_rounding() -> None:
    for factor in (2, Decimal("1.5"), 1.5):
        with pytest.raises(TypeError):
            euros("1.00") * factor  # type: ignore[operator]
        with pytest.raises(TypeError):
            factor * euros("1.00")  # type: ignore[operator]
    with pytest.raises(TypeError, match="5"):
        euros("1.00") + 5  # type: ignore[operator]


def test_money_is_taken_so_many_times() -> None:
    assert euros("0.33").times(3) == euros("0.99")
    assert euros("0.33").times(Decimal("1.5")) == euros("0.50")
    assert euros("0.33").times(Decimal("1.5"), rounding=Rounding.DOWN) == euros("0.49")
    assert euros("1.00").times(Fraction(1, 3)) == euros("0.33")
    with pytest.raises(ValueError, match=r"the factor 1\.5"):
        euros("1.00").times(1.5)  # type: ignore[arg-type]


def test_a_share_of_money_is_a_percentage() -> None:
    assert euros("99.99").share(25) == euros("25.00")
    assert euros("0.10").share(5) == euros("0.01")
    assert euros("0.10").share(5, rounding=Rounding.HALF_DOWN) == euros("0.00")
    assert euros("200.00").share(Decimal("12.5")) == euros("25.00")
    with pytest.raises(ValueError, match=r"the percentage 0\.5"):
        euros("1.00").share(0.5)  # type: ignore[arg-type]


def test_money_is_summed_from_nothing() -> None:
    assert sum_money([], currency="JPY") == Money.zero("JPY")
    assert sum_money([euros("0.10")] * 3, currency="EUR") == euros("0.30")


def test_money_is_split_into_parts_that_add_up() -> None:
    assert euros("0.05").split([1, 1]) == [euros("0.03"), euros("0.02")]
    assert euros("100.00").split([Decimal("0.5"), 1]) == [
        euros("33.33"),
        euros("66.67"),
    ]


def test_money_does_not_depend_on_the_decimal_context() -> None:
    with localcontext(prec=2):
        total = euros("1234.56") + euros("0.01")
        tripled = euros("1234.56").times(3)

    assert (str(total.amount), str(tripled.amount)) == ("1234.57", "3703.68")


def test_shares_follow_the_largest_remainders() -> None:
    # The worked Hare quota election of ten seats in encyclopedias (from memory).
    votes = [47_000, 16_000, 15_900, 12_000, 6_000, 3_100]

    assert allocate(10, votes) == [5, 2, 1, 1, 1, 0]


@pytest.mark.parametrize(
    ("total", "weights", "parts"),
    [
        (100, [1, 1, 1], [34, 33, 33]),
        (-100, [1, 1, 1], [-34, -33, -33]),
        (2, [1, 1, 1], [1, 1, 0]),
        (1, [0, 5], [0, 1]),
        (50, [120, -20], [60, -10]),
        (-7, [-1, -1], [-4, -3]),
        (0, [0, 0], [0, 0]),
        (0, [], []),
        (5, [Decimal("0.1"), Decimal("0.1")], [3, 2]),
    ],
)
def test_a_whole_is_allocated_by_weight(
    total: int, weights: list[Decimal | Fraction | int], parts: list[int]
) -> None:
    assert allocate(total, weights) == parts


@pytest.mark.parametrize("weights", [[], [0, 0], [1, -1]])
def test_nothing_is_allocated_by_weights_that_add_up_to_nothing(
    weights: list[Decimal | Fraction | int],
) -> None:
    with pytest.raises(ValueError, match="7"):
        allocate(7, weights)


def test_a_weight_is_an_exact_number() -> None:
    with pytest.raises(ValueError, match=r"the weight 0\.5"):
        allocate(7, [0.5, 1])  # type: ignore[list-item]


@pytest.mark.parametrize("total", [1, 5])
def test_parts_are_not_bent_to_a_total_that_is_far_off(total: int) -> None:
    with pytest.raises(ValueError, match=f"{total} is too far"):
        largest_remainder([Fraction(1), Fraction(1)], total)


@settings(deadline=None)
@given(
    st.integers(-(10**9), 10**9),
    st.lists(st.integers(0, 10**6), min_size=1, max_size=9),
)
def test_allocated_parts_add_up_and_are_within_one_of_fair(
    total: int, weights: list[int]
) -> None:
    if not any(weights):
        return
    parts = allocate(total, weights)

    assert sum(parts) == total
    for part, weight in zip(parts, weights, strict=True):
        assert abs(part - Fraction(total * weight, sum(weights))) < 1


@settings(deadline=None)
@given(st.integers(-(10**12), 10**12), st.sampled_from(["EUR", "JPY", "KWD"]))
def test_minor_units_go_there_and_back(minor: int, currency: str) -> None:
    amount = Money.from_minor(minor, currency)

    assert amount.minor == minor
    assert Money(amount.amount, currency) == amount
    assert amount - amount == Money.zero(currency)


@settings(deadline=None)
@given(st.decimals(-(10**6), 10**6, places=5))
def test_rounding_is_symmetric_and_near(exact: Decimal) -> None:
    rounded = Money.rounded(exact, "EUR")

    assert Money.rounded(-exact, "EUR") == -rounded
    assert abs(rounded.amount - exact) <= Decimal("0.005")
