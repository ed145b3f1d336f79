"""A year as its page and its sheets show it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Final

from django.urls import reverse

from invoicing.books.accounts import Account
from invoicing.years.figures import Figure, Own, YearFigures, YearLine
from studio.money import Money, decimal_from_minor, exponent
from studio.sheets import Cell

OWN_NAMES: Final = {
    Own.OUT: "Taken out",
    Own.PRIVATE: "Private shares that the business paid",
    Own.IN: "Put in",
    Own.POCKET: "Costs paid from your own pocket",
}
INCOME_NAMES: Final = {
    Account.SALES: "Paid on invoices",
    Account.DEPOSITS: "Deposits and stages",
    Account.ON_ACCOUNT: "Clients’ money without an invoice",
    Account.VOUCHERS: "Vouchers sold, less those redeemed",
}
SHEET_HEAD: Final = (
    *("Part", "Account", "Kind", "Date", "Document", "With", "Paid"),
    *("Private share", "Counts", "Currency"),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class FigureRow:
    """One figure with the page of its documents."""

    name: str
    code: str
    url: str
    count: int
    paid: Money
    private: Money
    counts: Money


@dataclass(frozen=True, slots=True, kw_only=True)
class DocumentRow:
    """One document of a figure."""

    document: str
    url: str
    party: str
    on: date
    kind: str
    paid: Money
    private: Money
    counts: Money


@dataclass(frozen=True, slots=True, kw_only=True)
class ShownYear:
    """A year for its page."""

    slug: str
    name: str
    income: Sequence[FigureRow]
    costs: Sequence[FigureRow]
    own: Sequence[FigureRow]
    income_sum: Money
    paid_sum: Money
    private_sum: Money
    costs_sum: Money
    profit: Money


def span_words(first: date, last: date) -> str:
    """Return how a year is named: its first and last day."""
    return f"{first.day} {first:%B %Y} to {last.day} {last:%B %Y}"


def shown_year(year: YearFigures, codes: Mapping[str, str]) -> ShownYear:
    """Return a year for its page."""

    def money(minor: int) -> Money:
        return Money.from_minor(minor, year.currency)

    return ShownYear(
        slug=year.span.first.isoformat(),
        name=span_words(year.span.first, year.span.last),
        income=[_row(one, year, codes) for one in year.income],
        costs=[_row(one, year, codes) for one in year.costs],
        own=[_row(one, year, codes) for one in year.own],
        income_sum=money(year.income_minor),
        paid_sum=money(sum(one.paid_minor for one in year.costs)),
        private_sum=money(sum(one.private_minor for one in year.costs)),
        costs_sum=money(year.costs_minor),
        profit=money(year.profit_minor),
    )


def name_of(kind: Account | Own) -> str:
    """Return what a figure is called."""
    if isinstance(kind, Own):
        return OWN_NAMES[kind]
    return INCOME_NAMES.get(kind, kind.label)


def slug_of(kind: Account | Own) -> str:
    """Return how an address names a figure."""
    return kind.value.lower().replace("_", "-")


def document_rows(figure: Figure, currency: str) -> list[DocumentRow]:
    """Return the documents of a figure, the oldest first."""
    return [
        DocumentRow(
            document=line.document,
            url=_url(line),
            party=line.party,
            on=line.on,
            kind=line.kind,
            paid=Money.from_minor(line.paid_minor, currency),
            private=Money.from_minor(line.private_minor, currency),
            counts=Money.from_minor(line.minor, currency),
        )
        for line in figure.lines
    ]


def sheet_rows(year: YearFigures, codes: Mapping[str, str]) -> list[list[Cell]]:
    """Return every document of every figure."""
    digits = exponent(year.currency)
    parts = (("Income", year.income), ("Cost", year.costs), ("Own money", year.own))
    return [
        [
            part,
            code_of(figure.of, codes),
            name_of(figure.of),
            line.on,
            line.document,
            line.party,
            decimal_from_minor(line.paid_minor, digits),
            decimal_from_minor(line.private_minor, digits),
            decimal_from_minor(line.minor, digits),
            year.currency,
        ]
        for part, figures in parts
        for figure in figures
        for line in figure.lines
    ]


def code_of(kind: Account | Own, codes: Mapping[str, str]) -> str:
    """Return the studio's own code of an account."""
    return codes[Account.OWNER if isinstance(kind, Own) else kind]


def _row(figure: Figure, year: YearFigures, codes: Mapping[str, str]) -> FigureRow:
    slug = year.span.first.isoformat()
    return FigureRow(
        name=name_of(figure.of),
        code=code_of(figure.of, codes),
        url=reverse("invoicing:year_figure", args=[slug, slug_of(figure.of)]),
        count=len(figure.lines),
        paid=Money.from_minor(figure.paid_minor, year.currency),
        private=Money.from_minor(figure.private_minor, year.currency),
        counts=Money.from_minor(figure.minor, year.currency),
    )


def _url(line: YearLine) -> str:
    if line.kind == "purchase":
        return reverse("invoicing:purchase", args=[line.pk])
    if line.kind == "own money":
        return reverse("invoicing:drawings")
    words = "" if line.document.startswith("Payment ") else line.document
    return f"{reverse('invoicing:payments')}?show=all&words={words}"
