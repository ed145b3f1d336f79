"""A money table as its page draws it: every cell is written before the template."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, Final

from django.core.paginator import Page, Paginator
from django.db.models import QuerySet
from django.utils.http import urlencode

from invoicing.lists.columns import Column, Look, sum_words
from invoicing.lists.listing import GROUP, Listing, Total, totals_of

PAGE: Final = 50


@dataclass(frozen=True, slots=True)
class Head:
    """The head of a column; `url` sorts by it, `direction` says that it is sorted."""

    name: str
    css: str
    url: str
    direction: str


@dataclass(frozen=True, slots=True)
class ShownCell:
    """One cell; `span` columns wide."""

    words: str
    css: str
    is_head: bool = False
    span: int = 1


@dataclass(frozen=True, slots=True)
class ShownRow:
    """One row, with what a ticked box sends of it."""

    key: str
    name: str
    cells: Sequence[ShownCell]


@dataclass(slots=True)
class Body:
    """Rows that stand together, below their subtotals where they are a group."""

    heads: Sequence[Sequence[ShownCell]] = ()
    rows: list[ShownRow] = field(default_factory=list)


@dataclass(frozen=True, slots=True, kw_only=True)
class ShownTable:
    """A whole page of a table."""

    listing: Listing
    heads: Sequence[Head]
    bodies: Sequence[Body]
    feet: Sequence[Sequence[ShownCell]]
    page: Page[Any]
    count: int


def shown_table(
    listing: Listing, rows: QuerySet[Any], look: Look, asked: Mapping[str, str]
) -> ShownTable:
    """Return a page of rows with its heads, subtotals and sums, in two queries."""
    columns = [one for one in listing.of(look) if one.on_page]
    sort = asked.get("sort", "")
    totals = totals_of(listing, rows)
    pages = Paginator(listing.ordered(rows, sort), PAGE)
    pages.count = sum(one.count for one in totals)  # so that they are not counted again
    page = pages.get_page(asked.get("page"))
    grouped = listing.is_grouped(sort)
    return ShownTable(
        listing=listing,
        heads=[_head(one, listing, sort, asked) for one in columns],
        bodies=list(_bodies(listing, page, columns, look, totals if grouped else None)),
        feet=list(_feet(totals, columns, look)),
        page=page,
        count=pages.count,
    )


def _head(
    column: Column, listing: Listing, sort: str, asked: Mapping[str, str]
) -> Head:
    now = sort if listing.order_of(sort) else listing.first_sort
    is_sorted, down = now.removeprefix("-") == column.key, now.startswith("-")
    url = ""
    if column.order:
        other = f"-{column.key}" if is_sorted and not down else column.key
        query = {**asked, "sort": other}
        query.pop("page", None)
        url = f"?{urlencode(query)}"
    direction = ("descending" if down else "ascending") if is_sorted else ""
    return Head(column.name, _place(column), url, direction)


def _bodies(
    listing: Listing,
    page: Page[Any],
    columns: Sequence[Column],
    look: Look,
    totals: Sequence[Total] | None,
) -> Iterator[Body]:
    bodies: dict[int, Body] = {}
    names = listing.groups(look) if totals is not None and listing.groups else ()
    for row in page.object_list:
        rank = getattr(row, GROUP) if totals is not None else 0
        if rank not in bodies:
            own = [one for one in totals or () if one.rank == rank]
            heads = list(_group_heads(names[rank], own, columns, look)) if own else []
            bodies[rank] = Body(heads)
        bodies[rank].rows.append(_row(listing, row, columns, look))
    yield from bodies.values()


def _row(listing: Listing, row: Any, columns: Sequence[Column], look: Look) -> ShownRow:
    cells = [ShownCell(one.words(row, look), one.css, one.is_head) for one in columns]
    stamp = listing.stamp(row)
    return ShownRow(f"{row.pk}.{stamp}" if stamp else str(row.pk), str(row), cells)


def _group_heads(
    name: str, totals: Iterable[Total], columns: Sequence[Column], look: Look
) -> Iterator[list[ShownCell]]:
    for total in totals:
        words = f"{name}, {total.count}"
        yield _sums(words, total, columns, look, in_group=True)


def _feet(
    totals: Sequence[Total], columns: Sequence[Column], look: Look
) -> Iterator[list[ShownCell]]:
    for currency in sorted({one.currency for one in totals}):
        own = [one for one in totals if one.currency == currency]
        count = sum(one.count for one in own)
        sums = {key: sum(one.sums[key] for one in own) for key in own[0].sums}
        total = Total(0, currency, count, sums)
        words = f"All {count}" if count > 1 else "One row"
        yield _sums(words, total, columns, look, in_group=False)


def _sums(
    words: str,
    total: Total,
    columns: Sequence[Column],
    look: Look,
    *,
    in_group: bool,
) -> list[ShownCell]:
    """Return a row of sums; its name reaches up to the first of them."""
    own = total.currency == look.profile.currency
    name = words if own else f"{words}, in {total.currency}"
    adding = [bool(one.adds) and (one.in_group or not in_group) for one in columns]
    start = adding.index(True)
    cells = [ShownCell(name, "phone-a", is_head=True, span=start)]
    for column, adds in zip(columns[start:], adding[start:], strict=True):
        said = sum_words(total.sums[column.key], total.currency, look) if adds else ""
        cells.append(ShownCell(said, column.css if adds else "phone-off"))
    return cells


def _place(column: Column) -> str:
    return " ".join(
        one for one in column.css.split() if not one.startswith(("phone-", "strong"))
    )
