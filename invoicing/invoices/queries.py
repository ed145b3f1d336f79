"""Questions about invoices, answered with plain values."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any

from django.db.models import Sum

from invoicing.invoices.models import Invoice, InvoiceDraft, standing_by
from invoicing.invoices.states import Standing
from invoicing.payments.models import Payment
from studio.money import Money
from studio.wording import day_plain

DUE_SOON = timedelta(days=7)
LATE_BUCKETS = (
    (30, "1–30 days late"),
    (60, "31–60 days late"),
    (90, "61–90 days late"),
)


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


def glance(*, on: date, currency: str) -> MoneyGlance:
    """Return what is owed, late, due soon and received this month."""
    unsettled = [row_of(one, on=on) for one in _unsettled()]
    rows = [row for row in unsettled if row.balance.currency == currency]
    late = [row for row in rows if row.standing is Standing.LATE]
    soon = [row for row in rows if on <= row.due_on <= on + DUE_SOON]
    month = Payment.objects.money().filter(
        received_on__gte=on.replace(day=1), received_on__lte=on, currency=currency
    )
    received = month.aggregate(total=Sum("amount_minor"))["total"] or 0
    return MoneyGlance(
        owed=_sum(rows, currency),
        owed_count=len(rows),
        late=_sum(late, currency),
        late_count=len(late),
        oldest_days=max((row.days_late for row in late), default=0),
        soon=_sum(soon, currency),
        soon_count=len(soon),
        received=Money.from_minor(received, currency),
        received_count=month.count(),
        ageing=_ageing(rows, currency),
        elsewhere=tuple(_elsewhere(unsettled, currency)),
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


def _sum(rows: Sequence[InvoiceRow], currency: str) -> Money:
    return Money.from_minor(sum(row.balance.minor for row in rows), currency)


def _elsewhere(rows: Sequence[InvoiceRow], own: str) -> Iterator[Money]:
    for currency in sorted({row.balance.currency for row in rows} - {own}):
        yield _sum([row for row in rows if row.balance.currency == currency], currency)


def _ageing(rows: Sequence[InvoiceRow], currency: str) -> tuple[tuple[str, Money], ...]:
    shares: dict[str, int] = {"Not yet due": 0}
    shares |= {name: 0 for _, name in LATE_BUCKETS} | {"over 90 days late": 0}
    for row in rows:
        shares[_bucket(row)] += row.balance.minor
    return tuple(
        (name, Money.from_minor(minor, currency)) for name, minor in shares.items()
    )


def _bucket(row: InvoiceRow) -> str:
    if row.standing is not Standing.LATE:
        return "Not yet due"
    for days, name in LATE_BUCKETS:
        if row.days_late <= days:
            return name
    return "over 90 days late"
