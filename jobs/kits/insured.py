"""The list of kit for insurance: what there is, and what it is worth by currency."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from jobs.kits.models import KitItem
from studio.money import Money, sum_money
from studio.sheets import Cell
from studio.wording import money_words

HEAD = (
    *("item", "category", "serial", "bought", "kept", "bag"),
    *("value", "currency"),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class InsuredRow:
    """One item, as an insurer wants to know it."""

    name: str
    category: str
    serial: str
    bought_on: date | None
    shelf: str
    bag: str
    value: Money | None

    @property
    def cells(self) -> tuple[Cell, ...]:
        """The row of a table; what is not known stays empty."""
        own = (self.name, self.category, self.serial, self.bought_on)
        worth = (self.value.amount, self.value.currency) if self.value else (None, "")
        return (*own, self.shelf, self.bag, *worth)


@dataclass(frozen=True, slots=True, kw_only=True)
class InsuredList:
    """All items in use, and their worth; currencies are never added together."""

    studio: str
    on: date
    rows: tuple[InsuredRow, ...]

    @property
    def totals(self) -> tuple[Money, ...]:
        """One total for each currency."""
        values = [row.value for row in self.rows if row.value]
        codes = sorted({value.currency for value in values})
        return tuple(
            sum_money((one for one in values if one.currency == code), currency=code)
            for code in codes
        )

    @property
    def total_words(self) -> str:
        """The totals in words, and how many items have no value yet."""
        words = [money_words(total) for total in self.totals]
        unvalued = sum(row.value is None for row in self.rows)
        if unvalued:
            words.append(f"{unvalued} without a value")
        return ", ".join(words) or "Nothing listed"


def insured_list(*, studio: str, on: date) -> InsuredList:
    """Return the list of all items in use, by category and name. One query."""
    items = KitItem.objects.in_use().order_by("category", "name", "pk")
    return InsuredList(
        studio=studio, on=on, rows=tuple(insured_row(item) for item in items)
    )


def insured_row(item: KitItem) -> InsuredRow:
    """Return one item as a row."""
    worth = item.value_minor
    return InsuredRow(
        name=item.name,
        category=item.get_category_display(),
        serial=item.serial,
        bought_on=item.bought_on,
        shelf=item.shelf,
        bag=item.bag,
        value=None if worth is None else Money.from_minor(worth, item.currency),
    )
