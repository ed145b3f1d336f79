"""Interest on a late business debt: simple, on the falling balance, by days of a year.

Proposed with its working, never charged by itself. The rates are the studio's own
entries; whether they apply is for local law and whoever advises the studio.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from fractions import Fraction
from typing import Final

from studio.money import round_minor

YEAR_DAYS: Final = 365
_PARTS: Final = 10_000


@dataclass(frozen=True, slots=True, kw_only=True)
class Rate:
    """A yearly rate, in hundredths of a percent, from a day on."""

    from_on: date
    basis_points: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Stretch:
    """Days in which balance and rate stayed the same; `last` is included."""

    first: date
    last: date
    balance_minor: int
    basis_points: int

    @property
    def days(self) -> int:
        """How many days."""
        return (self.last - self.first).days + 1

    @property
    def exact(self) -> Fraction:
        """The interest of the stretch, not rounded, in minor units."""
        return Fraction(
            self.balance_minor * self.basis_points * self.days, YEAR_DAYS * _PARTS
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class LateInterest:
    """The working and the sum, rounded once."""

    stretches: tuple[Stretch, ...]

    @property
    def minor(self) -> int:
        """The interest in minor units."""
        return round_minor(sum((one.exact for one in self.stretches), Fraction(0)), 0)

    @property
    def days(self) -> int:
        """How many days the debt was late."""
        return sum(one.days for one in self.stretches)


def late_interest(
    *,
    gross_minor: int,
    due_on: date,
    to: date,
    paid: Sequence[tuple[date, int]],
    rates: Sequence[Rate],
    is_fixed: bool,
) -> LateInterest:
    """Return the interest from the day after `due_on` to `to`, both included.

    A payment bears interest up to its own day. `is_fixed`: the rate of the due day
    holds for the whole debt (as the United Kingdom's Act of 1998 has it, section 4);
    otherwise each day has the rate in force. No rate for a day means none.
    """
    cuts = {day for day, _ in paid if due_on < day < to}
    if not is_fixed:
        cuts |= {
            rate.from_on - timedelta(days=1)
            for rate in rates
            if due_on + timedelta(days=1) < rate.from_on <= to
        }
    stretches, first = [], due_on + timedelta(days=1)
    for last in sorted({*cuts, to}):
        if last < first:
            continue
        balance = gross_minor - sum(minor for day, minor in paid if day < first)
        rate = _rate(rates, due_on if is_fixed else first)
        if balance > 0 and rate:
            stretches.append(
                Stretch(
                    first=first, last=last, balance_minor=balance, basis_points=rate
                )
            )
        first = last + timedelta(days=1)
    return LateInterest(stretches=tuple(stretches))


def compensation(gross_minor: int, bands: Sequence[tuple[int, int]]) -> int:
    """Return the fixed sum for a debt: that of the highest band it reaches.

    A band is the least debt in minor units and the sum that goes with it.
    """
    return max(
        ((least, sum_) for least, sum_ in bands if gross_minor >= least),
        default=(0, 0),
    )[1]


def _rate(rates: Sequence[Rate], on: date) -> int:
    known = [rate for rate in rates if rate.from_on <= on]
    return max(known, key=lambda rate: rate.from_on).basis_points if known else 0
