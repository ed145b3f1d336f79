"""Cash that is rounded to the smallest coin, where a studio does so.

A setting, off at first. The rounding is of the sum that is paid in cash: never of
lines, and never of tax. Plain arithmetic in integer minor units.
"""

from __future__ import annotations

from fractions import Fraction

from studio.money import round_minor
from studio.profile.models import StudioProfile


def coin_of(currency: str, profile: StudioProfile) -> int:
    """Return the smallest coin of a currency; 0 where cash is not rounded."""
    if profile.cash_coin_currency != currency:
        return 0
    return profile.cash_coin_minor


def in_coins(minor: int, coin: int) -> int:
    """Return a sum at the nearest coin, half away from zero; as it is without one."""
    return coin * round_minor(Fraction(minor, coin), 0) if coin else minor


def settled_by(cash_minor: int, balance_minor: int, coin: int) -> int:
    """Return what of a balance cash settles: all of it, at the balance in coins."""
    if cash_minor == in_coins(balance_minor, coin):
        return balance_minor
    return min(cash_minor, balance_minor)
