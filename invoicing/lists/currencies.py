"""Currencies to choose from, where a page shows one of them at a time."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from studio.money import Money


@dataclass(frozen=True, slots=True, kw_only=True)
class CurrencyTab:
    """One currency to look at, with what a page would sum in it."""

    sum: Money
    is_shown: bool

    @property
    def currency(self) -> str:
        """The code of the currency."""
        return self.sum.currency


def currency_tabs(sums: Iterable[Money], shown: str) -> list[CurrencyTab]:
    """Return a tab for each sum, and which is shown; none for one alone."""
    tabs = [CurrencyTab(sum=one, is_shown=one.currency == shown) for one in sums]
    return tabs if len(tabs) > 1 else []
