"""The run of numbers: every paper that has one, in order, and what is missing."""

from __future__ import annotations

from collections.abc import Iterator

from invoicing.invoices.models import Invoice
from invoicing.invoices.states import Series
from studio.sheets import Cell


def number_lines() -> Iterator[list[Cell]]:
    """Yield a row for each paper, and one for each number that is missing."""
    papers = Invoice.objects.order_by("series", "year", "place")
    before: tuple[str, int, int] = ("", 0, 0)
    for series, year, place, number, on in papers.values_list(
        "series", "year", "place", "number", "issued_on"
    ):
        expected = before[2] + 1 if before[:2] == (series, year) else 1
        for missing in range(expected, place):
            yield [Series(series).label, f"{missing} of {year}", None, "missing"]
        yield [Series(series).label, number, on, ""]
        before = (series, year, place)
