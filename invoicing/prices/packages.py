"""A package of the price list as lines: one for each rate of tax in it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Final

from invoicing.prices.basis import price_on
from invoicing.prices.models import PriceItem
from invoicing.tax import PriceBasis
from studio.money import Money, allocate
from studio.profile.models import StudioProfile
from studio.wording import plain_number

LONGEST_DETAIL: Final = 400
JOINED: Final = "; "


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """So many of one thing in a package, at the list's price, in minor units."""

    name: str
    quantity_thousandths: int
    listed_minor: int
    cost_minor: int
    rate: int

    @property
    def words(self) -> str:
        """What it is and how many of it."""
        if self.quantity_thousandths == 1000:
            return self.name
        count = plain_number(Decimal(self.quantity_thousandths) / 1000)
        return f"{count} × {self.name}"


@dataclass(frozen=True, slots=True, kw_only=True)
class PackageLine:
    """What a package costs at one rate of tax, and what is in it at that rate."""

    words: str
    price_minor: int
    cost_minor: int
    rate: int


def lines_by_rate(price_minor: int, parts: Sequence[Part]) -> list[PackageLine]:
    """Share a package's one price over the rates of what is in it.

    By the parts' prices on the list, largest remainder, so that the lines add up to the
    price exactly; the rate of the first part leads. Parts that all cost nothing by
    themselves share evenly. The source of the rule is common practice: ask whoever
    files the books where the rates differ.
    """
    rates = list(dict.fromkeys(part.rate for part in parts))
    by_rate = [[part for part in parts if part.rate == rate] for rate in rates]
    weights = [sum(part.listed_minor for part in group) for group in by_rate]
    shares = allocate(price_minor, weights if any(weights) else [1] * len(weights))
    return [
        PackageLine(
            words=JOINED.join(part.words for part in group),
            price_minor=share,
            cost_minor=sum(part.cost_minor for part in group),
            rate=rate,
        )
        for rate, group, share in zip(rates, by_rate, shares, strict=True)
    ]


def parts_of(
    package: PriceItem, basis: PriceBasis, profile: StudioProfile
) -> list[Part]:
    """Return what is in a package, at the list's prices on a basis. One query."""
    rows = package.parts.select_related("item")
    return [
        Part(
            name=row.item.name,
            quantity_thousandths=row.quantity_thousandths,
            listed_minor=_times(
                price_on(row.item, basis, profile), row.quantity_thousandths, profile
            ),
            cost_minor=_times(row.item.cost_minor, row.quantity_thousandths, profile),
            rate=row.item.rate_under(profile),
        )
        for row in rows
    ]


def package_lines(
    package: PriceItem, basis: PriceBasis, profile: StudioProfile
) -> list[PackageLine]:
    """Return a package as lines; one without parts is a line of its own."""
    price = price_on(package, basis, profile)
    parts = parts_of(package, basis, profile)
    if not parts:
        rate = package.rate_under(profile)
        cost = package.cost_minor
        return [PackageLine(words="", price_minor=price, cost_minor=cost, rate=rate)]
    return lines_by_rate(price, parts)


def detail_of(package: PriceItem, line: PackageLine) -> str:
    """Return what stands small under a package's line."""
    said = [words for words in (package.detail, line.words) if words]
    return JOINED.join(said)[:LONGEST_DETAIL]


def _times(minor: int, thousandths: int, profile: StudioProfile) -> int:
    money = Money.from_minor(minor, profile.currency)
    return money.times(Decimal(thousandths) / 1000).minor
