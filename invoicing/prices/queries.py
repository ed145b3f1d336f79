"""Questions about the price list, answered with plain values."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import Final

from django.db.models import F

from invoicing.prices.licences import licence_words
from invoicing.prices.models import PackagePart, PriceItem, PriceKind
from invoicing.prices.packages import parts_of
from invoicing.tax import PriceBasis
from studio.money import Money
from studio.profile.models import DistanceUnit, StudioProfile
from studio.wording import plain_number

_PLURAL: Final[dict[str, str]] = {
    PriceKind.PACKAGE: "Packages",
    PriceKind.ITEM: "Items",
    PriceKind.HOUR: "Hours",
    PriceKind.PRINT: "Prints",
    PriceKind.TRAVEL: "Travel",
    PriceKind.LICENCE: "Usage licences",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class PriceRow:
    """One price as the list shows it; `more` is what its kind has to say."""

    item: PriceItem
    price: Money
    more: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PriceGroup:
    """The prices of one kind."""

    name: str
    rows: tuple[PriceRow, ...]


def groups_of_prices() -> list[PriceGroup]:
    """Return the price list kind by kind; what is no longer sold comes last.

    Three queries at most.
    """
    profile = StudioProfile.load()
    items = PriceItem.objects.order_by(
        "retired", "is_extra", F("up_to_distance").asc(nulls_last=True), "name"
    )
    listed = list(items.prefetch_related("parts__item"))
    groups = [
        PriceGroup(name=name, rows=_rows(listed, kind, profile))
        for kind, name in _PLURAL.items()
    ]
    return [group for group in groups if group.rows]


def listed_value(package: PriceItem) -> Money:
    """Return what the parts of a package cost one by one, as the list says it."""
    profile = StudioProfile.load()
    basis: PriceBasis = "gross" if profile.list_prices_include_tax else "net"
    parts = parts_of(package, basis, profile)
    total = sum(part.listed_minor for part in parts)
    return Money.from_minor(total, profile.currency)


def _rows(
    listed: list[PriceItem], kind: str, profile: StudioProfile
) -> tuple[PriceRow, ...]:
    return tuple(
        PriceRow(
            item=item,
            price=Money.from_minor(item.unit_price_minor, profile.currency),
            more=_more(item, profile),
        )
        for item in listed
        if item.kind == kind
    )


def _more(item: PriceItem, profile: StudioProfile) -> str:
    if item.kind == PriceKind.PACKAGE:
        return "; ".join(_part_words(part) for part in item.parts.all())
    if item.kind == PriceKind.TRAVEL:
        unit = DistanceUnit(profile.distance_unit).label.lower()
        far = item.up_to_distance
        return f"Up to {far} {unit} one way" if far else "Beyond, for each, both ways"
    if item.kind == PriceKind.LICENCE:
        return licence_words(
            who=item.licence_who, where=item.licence_where, months=item.licence_months
        )
    return ""


def _part_words(part: PackagePart) -> str:
    count = plain_number(Decimal(part.quantity_thousandths) / 1000)
    return part.item.name if count == "1" else f"{count} × {part.item.name}"
