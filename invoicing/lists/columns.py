"""What a column of a money table says, on its page and in a sheet."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from typing import Any

from django.utils.dateformat import format as formatted

from studio.money import Money, decimal_from_minor, exponent
from studio.profile.models import StudioProfile
from studio.sheets import Cell
from studio.wording import minor_words, money_words

DASH = "\N{EN DASH}"


@dataclass(frozen=True, slots=True)
class Look:
    """Whose table it is, and the day on which it is looked at."""

    profile: StudioProfile
    on: date


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """One column. A sum names the field of its minor units; others give a value.

    `order` is what the database sorts by; a column without it cannot be sorted. A sum
    that `adds` has a foot, and one that stands `in_group` a subtotal.
    """

    key: str
    name: str
    value: Callable[[Any], Cell] | None = None
    shown: Callable[[Any, Look], str] | None = None
    minor: str = ""
    order: str = ""
    css: str = ""
    adds: str = ""
    in_group: bool = False
    is_head: bool = False
    is_taxed: bool = False
    on_page: bool = True
    in_sheet: bool = True

    def cell(self, row: Any) -> Cell:
        """Return what a sheet gets: sums as numbers with their currency's digits."""
        if self.value:
            return self.value(row)
        digits = exponent(row.currency)
        return decimal_from_minor(getattr(row, self.minor), digits)

    def words(self, row: Any, look: Look) -> str:
        """Return what the page shows."""
        if self.shown:
            return self.shown(row, look)
        if self.minor:
            return sum_words(getattr(row, self.minor), row.currency, look)
        value = self.value(row) if self.value else None
        return day_words(value, look) if isinstance(value, date) else str(value or "")


def sum_words(minor: int, currency: str, look: Look) -> str:
    """Return a sum; in another currency than the studio's own, with its sign."""
    if not minor:
        return DASH
    if currency == look.profile.currency:
        return minor_words(minor, currency)
    return money_words(Money.from_minor(minor, currency))


def day_words(day: date | None, look: Look) -> str:
    """Return a day of a column: 14 Oct, in another year 14 Oct 2026."""
    if day is None:
        return ""
    return formatted(day, "j M" if day.year == look.on.year else "j M Y")


def columns_for(columns: tuple[Column, ...], look: Look) -> tuple[Column, ...]:
    """Leave out what a studio outside of tax has none of."""
    registered = look.profile.tax_registered
    return tuple(one for one in columns if registered or not one.is_taxed)
