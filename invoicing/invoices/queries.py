"""Questions about invoices, answered with plain values."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any, NamedTuple

from django.db import connection
from django.db.models import Sum

from invoicing.invoices.late import BUCKETS, bucket_of
from invoicing.invoices.models import Invoice, InvoiceDraft, standing_by
from invoicing.invoices.states import Standing
from invoicing.payments.models import Payment
from studio.money import Money
from studio.wording import day_plain

DUE_SOON = timedelta(days=7)


@dataclass(frozen=True, slots=True, kw_only=True)
class InvoiceRow:
    """One invoice of the list."""

    pk: int
    number: str
    url: str
    client_name: str
    job_title: str
    issued_on: date
    due_on: date
    total: Money
    paid: Money
    balance: Money
    standing: Standing
    days_late: int

    @property
    def to_pay_back(self) -> Money | None:
        """What was paid beyond what the invoice is worth by now, if anything."""
        return -self.balance if self.balance.minor < 0 else None

    @property
    def standing_words(self) -> str:
        """How it stands, in words."""
        if self.standing is Standing.LOST:
            return lost_words(self.paid.minor)
        return words_of_standing(self.standing, self.due_on, self.days_late)


@dataclass(frozen=True, slots=True, kw_only=True)
class MoneyGlance:
    """What is owed to the studio on a day."""

    owed: Money
    owed_count: int
    late: Money
    late_count: int
    oldest_days: int
    soon: Money
    soon_count: int
    received: Money
    received_count: int
    ageing: tuple[tuple[str, Money], ...]
    elsewhere: tuple[Money, ...]
    """What is owed in other currencies, which no sum here holds."""


class OpenShare(NamedTuple):
    """What is open in one currency and due on one day."""

    currency: str
    due_on: date
    minor: int
    papers: int


def open_shares() -> list[OpenShare]:
    """Return what is open now by currency and due date, read off one index.

    Written in SQL: of 5,000 open invoices, the ORM would take longer to ask than the
    database to answer.
    """
    with connection.cursor() as cursor:
        cursor.execute(
            "SELECT currency, due_on, CAST(SUM(open_minor) AS bigint), COUNT(*) "
            "FROM invoicing_invoicebalance WHERE open_minor > 0 "
            "GROUP BY currency, due_on"
        )
        return [OpenShare(*row) for row in cursor.fetchall()]


def glance(*, on: date, currency: str) -> MoneyGlance:
    """Return what is owed, late, due soon and received this month."""
    everywhere = open_shares()
    here = [share for share in everywhere if share.currency == currency]
    late = [share for share in here if share.due_on < on]
    soon = [share for share in here if on <= share.due_on <= on + DUE_SOON]
    month = Payment.objects.money().filter(
        received_on__gte=on.replace(day=1), received_on__lte=on, currency=currency
    )
    received = month.aggregate(total=Sum("amount_minor"))["total"] or 0
    return MoneyGlance(
        owed=_sum(here, currency),
        owed_count=_count(here),
        late=_sum(late, currency),
        late_count=_count(late),
        oldest_days=max(((on - share.due_on).days for share in late), default=0),
        soon=_sum(soon, currency),
        soon_count=_count(soon),
        received=Money.from_minor(received, currency),
        received_count=month.count(),
        ageing=_ageing(here, currency, on),
        elsewhere=tuple(_elsewhere(everywhere, currency)),
    )


def late_rows(*, on: date) -> list[InvoiceRow]:
    """Return the late invoices, the oldest first."""
    return [row_of(one, on=on) for one in _unsettled().filter(due_on__lt=on)]


def row_of(invoice: Any, *, on: date) -> InvoiceRow:
    """Return an invoice that `with_balance` counted, as a row."""
    currency = invoice.currency
    return InvoiceRow(
        pk=invoice.pk,
        number=invoice.number,
        url=invoice.get_absolute_url(),
        client_name=invoice.client.name,
        job_title=invoice.job.title,
        issued_on=invoice.issued_on,
        due_on=invoice.due_on,
        total=Money.from_minor(invoice.gross_minor, currency),
        paid=Money.from_minor(invoice.paid_minor, currency),
        balance=Money.from_minor(invoice.balance_minor, currency),
        standing=standing_by(invoice, on=on),
        days_late=max((on - invoice.due_on).days, 0),
    )


def lost_words(paid_minor: int) -> str:
    """Return how a debt stands that was given up, whole or in its last part."""
    return "Rest written off" if paid_minor > 0 else Standing.LOST.label


def words_of_standing(standing: Standing, due_on: date, days_late: int) -> str:
    """Return how an invoice stands: 9 days late, Due 14 Oct, Paid."""
    if standing is Standing.LATE:
        return f"{days_late} day{'s' if days_late != 1 else ''} late"
    if standing in (Standing.OPEN, Standing.PART_PAID):
        return f"Due {day_plain(due_on)}"
    return standing.label


def drafts_waiting() -> list[InvoiceDraft]:
    """Return the drafts that were neither issued nor dropped."""
    drafts = InvoiceDraft.objects.filter(dropped_at__isnull=True, invoice__isnull=True)
    return list(drafts.select_related("job__client").order_by("written_at"))


def draft_total(draft: InvoiceDraft) -> Money:
    """Return the sum of a draft."""
    content = draft.read_content
    return Money(content.totals().gross, content.currency)


def _unsettled() -> Any:
    unsettled = Invoice.objects.unsettled().select_related("client", "job")
    return unsettled.order_by("due_on", "pk")


def _sum(shares: Sequence[OpenShare], currency: str) -> Money:
    return Money.from_minor(sum(share.minor for share in shares), currency)


def _count(shares: Sequence[OpenShare]) -> int:
    return sum(share.papers for share in shares)


def _elsewhere(shares: Sequence[OpenShare], own: str) -> Iterator[Money]:
    for currency in sorted({share.currency for share in shares} - {own}):
        yield _sum([share for share in shares if share.currency == currency], currency)


def _ageing(
    shares: Sequence[OpenShare], currency: str, on: date
) -> tuple[tuple[str, Money], ...]:
    sums = [0] * len(BUCKETS)
    for share in shares:
        sums[bucket_of((on - share.due_on).days)] += share.minor
    names = (f"{name} late" if place else name for place, name in enumerate(BUCKETS))
    return tuple(
        (name, Money.from_minor(minor, currency))
        for name, minor in zip(names, sums, strict=True)
    )
