"""The pack of a closed period, and what is said about it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from invoicing.books.bases import Bases
from invoicing.books.facts import Facts
from invoicing.books.figures import PeriodFigures, figures_of
from invoicing.books.pack import pack_of
from invoicing.books.queries import read_facts
from invoicing.invoices.models import IssuedDocument
from invoicing.periods.calendar import Span
from invoicing.periods.models import ClosedPeriod
from invoicing.purchases.models import Purchase
from invoicing.sharing.models import PackShare
from studio.mail.letters import PLACE
from studio.profile.models import StudioProfile
from studio.wording import long_date


@dataclass(frozen=True, slots=True)
class Part:
    """One part of a pack, and what is in it."""

    name: str
    words: str


def span_of(period: ClosedPeriod) -> Span:
    """Return the days of a closed period."""
    return Span(period.starts_on, period.ends_on)


def pack_bytes(period: ClosedPeriod, *, at: datetime) -> bytes:
    """Return the pack of a closed period."""
    figures, facts = _read(period)
    return pack_of(figures, facts, at=at)


def parts_of(period: ClosedPeriod) -> list[Part]:
    """Say what the pack of a closed period holds, without making it."""
    figures, facts = _read(period)
    days = (period.starts_on, period.ends_on)
    papers = IssuedDocument.objects.filter(invoice__tax_point_on__range=days).count()
    bought = Purchase.objects.standing().filter(bought_on__range=days)
    receipts = bought.filter(receipt__isnull=False).count()
    payments = sum(days[0] <= one.on <= days[1] for one in facts.payments)
    parts = [
        Part("summary.txt", "The sums of the period"),
        Part("journal.csv", _so_many(len(figures.entries), "entry", "entries")),
    ]
    if figures.bears_tax:
        parts.append(Part("tax.csv", _so_many(len(figures.tax.lines), "line")))
    return [
        *parts,
        Part("payments.csv", _so_many(payments, "payment")),
        Part("purchases.csv", _so_many(bought.count(), "purchase")),
        Part("numbers.csv", "The run of numbers of the papers"),
        Part("papers/", _so_many(papers, "file")),
        Part("receipts/", _so_many(receipts, "file")),
    ]


def words_for(period: ClosedPeriod, name: str, *, until: datetime) -> tuple[str, str]:
    """Return subject and words of the letter to a reader, before it is edited."""
    studio, span = StudioProfile.load(), span_of(period)
    last = long_date(until.astimezone(studio.zone).date())
    body = (
        f"Dear {name},\n\nthe books of {studio.trading_name} for {span.name} are "
        f"closed. This private page has the whole pack to download:\n\n{PLACE}\n\n"
        f"It opens without a password until {last}. Please pass it to nobody.\n\n"
        f"{studio.trading_name}\n"
    )
    return f"Books of {studio.trading_name}, {span.name}", body


def shares_of(period: ClosedPeriod) -> list[PackShare]:
    """Return to whom the pack of a period was handed, the newest first."""
    shares = PackShare.objects.filter(period=period)
    return list(shares.select_related("link", "message", "made_by"))


def _read(period: ClosedPeriod) -> tuple[PeriodFigures, Facts]:
    facts = read_facts(period.figures["currency"])
    figures = figures_of(facts, span_of(period), bases=Bases.of_closed(period.figures))
    return figures, facts


def _so_many(count: int, one: str, many: str = "") -> str:
    return f"{count} {one if count == 1 else many or one + 's'}"
