"""Money: an exact amount in the minor units of one currency, never a float.

No figure here is touched by the ambient decimal context: sums are done in whole
minor units, and anything finer is an exact fraction until it is rounded by name.
"""

from __future__ import annotations

import enum
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Context, Decimal
from fractions import Fraction
from functools import cache, total_ordering
from math import floor
from typing import Final

from iso4217 import Currency

from studio.errors import DomainError

# Figures beyond these are slips of the hand, and 1E+999999 would fill the memory.
_HIGHEST_DIGIT: Final = 30
_LOWEST_DIGIT: Final = -60
_WIDE: Final = Context(prec=100)


class CurrencyMismatchError(DomainError):
    """Two amounts of different currencies were put together."""


class Rounding(enum.Enum):
    """Ways to round to a whole minor unit; all treat a minus sign as a mirror."""

    HALF_AWAY = "half away from zero"
    HALF_DOWN = "half towards zero"
    DOWN = "towards zero"


@total_ordering
@dataclass(frozen=True, slots=True)
class Money:
    """An exact amount in the minor units of one ISO 4217 currency."""

    amount: Decimal
    currency: str

    def __post_init__(self) -> None:
        digits = exponent(self.currency)
        minor = exact_figure(self.amount, "the amount") * 10**digits
        if minor.denominator != 1:
            raise ValueError(f"{self.amount} is finer than {self.currency} allows")
        amount = decimal_from_minor(minor.numerator, digits)
        object.__setattr__(self, "amount", amount)

    @classmethod
    def zero(cls, currency: str) -> Money:
        """Return nothing at all, in a currency."""
        return cls(Decimal(0), currency)

    @classmethod
    def from_minor(cls, minor: int, currency: str) -> Money:
        """Return the amount that so many cents (yen, fils) make."""
        whole = exact_figure(minor, "the minor units")
        if whole.denominator != 1:
            raise ValueError(f"{minor!r} is not a whole number of minor units")
        return cls(decimal_from_minor(whole.numerator, exponent(currency)), currency)

    @classmethod
    def rounded(
        cls,
        exact: Decimal | Fraction | int,
        currency: str,
        *,
        rounding: Rounding = Rounding.HALF_AWAY,
    ) -> Money:
        """Round an exact figure to the currency's minor unit, half away from zero."""
        digits = exponent(currency)
        minor = round_minor(exact_figure(exact, "the amount"), digits, rounding)
        return cls(decimal_from_minor(minor, digits), currency)

    @property
    def minor(self) -> int:
        """The amount as a whole number of minor units."""
        return int(Fraction(self.amount) * 10 ** exponent(self.currency))

    def times(
        self,
        factor: Decimal | Fraction | int,
        *,
        rounding: Rounding = Rounding.HALF_AWAY,
    ) -> Money:
        """Return the amount taken so many times, rounded by name.

        There is no `*`: a product is finer than a minor unit more often than not.
        """
        product = Fraction(self.amount) * exact_figure(factor, "the factor")
        return Money.rounded(product, self.currency, rounding=rounding)

    def share(
        self,
        percent: Decimal | Fraction | int,
        *,
        rounding: Rounding = Rounding.HALF_AWAY,
    ) -> Money:
        """Return so many per cent of the amount, rounded by name."""
        part = exact_figure(percent, "the percentage") / 100
        return self.times(part, rounding=rounding)

    def split(self, weights: Sequence[Decimal | Fraction | int]) -> list[Money]:
        """Divide the amount by weight so that the parts add up to it; see allocate."""
        parts = allocate(self.minor, weights)
        return [Money.from_minor(part, self.currency) for part in parts]

    def __add__(self, other: Money) -> Money:
        self._refuse_other_currency(other)
        return Money.from_minor(self.minor + other.minor, self.currency)

    def __sub__(self, other: Money) -> Money:
        self._refuse_other_currency(other)
        return Money.from_minor(self.minor - other.minor, self.currency)

    def __neg__(self) -> Money:
        return Money.from_minor(-self.minor, self.currency)

    def __abs__(self) -> Money:
        return Money.from_minor(abs(self.minor), self.currency)

    def __lt__(self, other: Money) -> bool:
        self._refuse_other_currency(other)
        return self.minor < other.minor

    def __str__(self) -> str:
        return f"{self.amount:,f} {self.currency}"

    def _refuse_other_currency(self, other: Money) -> None:
        if not isinstance(other, Money):
            raise TypeError(f"{other!r} is not an amount of money")
        if self.currency != other.currency:
            raise CurrencyMismatchError(
                f"{self} and {other} are in different currencies."
            )


def sum_money(amounts: Iterable[Money], *, currency: str) -> Money:
    """Return the sum of amounts of one currency; of none, zero."""
    total = Money.zero(currency)
    for amount in amounts:
        total += amount
    return total


@cache
def exponent(currency: str) -> int:
    """Return how many digits follow the point: EUR 2, JPY 0, KWD 3.

    Errors: ValueError for a code that ISO 4217 does not list, or lists without a
    minor unit (gold, test codes). Source: ISO 4217, list one, by way of `iso4217`.
    """
    try:
        digits = Currency(currency).exponent
    except ValueError:
        raise ValueError(f"{currency!r} is not an ISO 4217 currency code") from None
    if digits is None:
        raise ValueError(f"{currency!r} has no minor unit")
    return digits


def exact_figure(value: object, what: str) -> Fraction:
    """Return a figure as an exact fraction.

    Takes Decimal, Fraction and int. Errors: ValueError, with the value, for a float, a
    truth value, text, NaN, an infinity, and figures of more than 30 whole digits.
    """
    if isinstance(value, bool) or not isinstance(value, Decimal | Fraction | int):
        # ValueError, not TypeError: one kind of refusal for every figure from outside.
        raise ValueError(f"{what} {value!r} is not an exact number")  # noqa: TRY004
    if isinstance(value, Decimal):
        _refuse_wild_decimal(value, what)
    fraction = Fraction(value)
    if abs(fraction) >= 10**_HIGHEST_DIGIT:
        raise ValueError(f"{what} {value} is too large")
    return fraction


def round_minor(
    exact: Fraction, digits: int, rounding: Rounding = Rounding.HALF_AWAY
) -> int:
    """Round an exact figure to whole minor units of so many digits."""
    scaled = abs(exact) * Fraction(10) ** digits
    whole, rest = divmod(scaled, 1)
    half = Fraction(1, 2)
    up = {
        Rounding.HALF_AWAY: rest >= half,
        Rounding.HALF_DOWN: rest > half,
        Rounding.DOWN: False,
    }[rounding]
    size = int(whole) + up
    return size if exact >= 0 else -size


def decimal_from_minor(minor: int, digits: int) -> Decimal:
    """Return whole minor units as a decimal that shows all its digits."""
    return Decimal(minor).scaleb(-digits, context=_WIDE)


def allocate(
    total_minor: int, weights: Sequence[Decimal | Fraction | int]
) -> list[int]:
    """Divide a whole number by weight so that the parts add up to it exactly.

    Each part is within one of its exact share: largest remainder, of equal ones the
    first. Weights may carry signs (a discount among prices). Errors: ValueError where
    they add up to nothing and there is something to divide.
    """
    shares = [exact_figure(weight, "the weight") for weight in weights]
    if total_minor == 0:
        return [0] * len(shares)
    whole = sum(shares)
    if whole == 0:
        raise ValueError(f"{total_minor} cannot be divided: the weights add up to 0")
    return largest_remainder(
        [total_minor * share / whole for share in shares], total_minor
    )


def largest_remainder(exact: Sequence[Fraction], total: int) -> list[int]:
    """Round figures to whole numbers that add up to a total close to their sum.

    Errors: ValueError where the total is not within one per figure of their sum.
    """
    if total < 0:
        return [-part for part in largest_remainder([-part for part in exact], -total)]
    parts = [floor(part) for part in exact]
    missing = total - sum(parts)
    if not 0 <= missing <= len(parts):
        raise ValueError(f"{total} is too far from the sum of its parts")
    by_remainder = sorted(range(len(exact)), key=lambda i: parts[i] - exact[i])
    for index in by_remainder[:missing]:
        parts[index] += 1
    return parts


def _refuse_wild_decimal(value: Decimal, what: str) -> None:
    if not value.is_finite():
        raise ValueError(f"{what} {value} is not a finite number")
    lowest = value.as_tuple().exponent
    if isinstance(lowest, int) and not _LOWEST_DIGIT <= lowest <= -_LOWEST_DIGIT:
        raise ValueError(f"{what} {value} has too many digits")
