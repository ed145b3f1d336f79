"""Open lines of the bank, each with what it is probably for."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import timedelta
from typing import Any, Final

from django.db.models import Q

from invoicing.bank.matching import OpenPaper, Proposal, propose
from invoicing.bank.models import BankLine
from invoicing.bank.recorded import recorded_as, without_line
from invoicing.invoices.models import Invoice
from invoicing.invoices.queries import draft_total, drafts_waiting
from invoicing.invoices.states import Purpose
from invoicing.payments.models import Method, Payment
from invoicing.purchases.models import PaidFrom, Purchase
from studio.money import Money
from studio.wording import long_date, money_words

NEAR: Final = timedelta(days=6)


@dataclass(frozen=True, slots=True, kw_only=True)
class LineRow:
    """One open line, with the best guess at what it is."""

    line: BankLine
    proposal: Proposal | None
    purchase: Purchase | None
    payment: Payment | None = None
    """A payment of just this sum that was recorded by hand."""

    @property
    def is_recorded(self) -> bool:
        """Whether such a payment lies so near that it is most likely this one."""
        day = self.payment.received_on if self.payment else None
        return bool(day and abs(day - self.line.booked_on) <= NEAR)

    @property
    def reason(self) -> str:
        """Why the guess is made, in words."""
        if self.payment and self.is_recorded:
            day = long_date(self.payment.received_on)
            return f"Recorded by hand for {self.payment.client} on {day}"
        if self.proposal:
            return self.proposal.reason
        return f"Same sum as {self.purchase}" if self.purchase else ""

    @property
    def is_sure(self) -> bool:
        """Whether number or name and the sum agree."""
        sure = bool(self.proposal and self.proposal.is_sure)
        return sure and not self.is_recorded

    @property
    def targets(self) -> str:
        """What the guess names."""
        if self.payment and self.is_recorded:
            return self.payment.number
        if self.proposal:
            return ", ".join(paper.number for paper in self.proposal.papers)
        return str(self.purchase) if self.purchase else ""


def open_rows() -> list[LineRow]:
    """Return the open lines, the oldest first, with their proposals."""
    lines = list(BankLine.objects.open().order_by("booked_on", "pk")[:500])
    papers, payments = open_papers(), without_line()
    taken: set[tuple[int, bool]] = set()
    rows = []
    for line in lines:
        free = [paper for paper in papers if (paper.pk, paper.is_draft) not in taken]
        row = row_of_line(line, free, payments)
        if row.is_sure and row.proposal:
            taken |= {(paper.pk, paper.is_draft) for paper in row.proposal.papers}
        rows.append(row)
    return rows


def row_of_line(
    line: BankLine, papers: Sequence[OpenPaper], payments: Sequence[Payment]
) -> LineRow:
    """Return one line with the best guess among papers, purchases and payments."""
    payment = recorded_as(line, payments)
    if line.amount_minor > 0:
        found = propose(line.amount_minor, line.text, line.party, papers)
        return LineRow(line=line, proposal=found, purchase=None, payment=payment)
    near = Purchase.objects.standing().filter(
        bank_line__isnull=True,
        gross_minor=-line.amount_minor,
        currency=line.currency,
        bought_on__lte=line.booked_on,
    )
    near = near.exclude(paid_on__lt=line.booked_on - NEAR)
    near = near.filter(Q(paid_on__isnull=True) | Q(paid_from=PaidFrom.BANK))
    return LineRow(
        line=line,
        proposal=None,
        purchase=near.order_by("bought_on").first(),
        payment=payment,
    )


def open_papers() -> list[OpenPaper]:
    """Return the invoices that wait for money, and the deposits that are asked for."""
    unsettled = Invoice.objects.unsettled().select_related("client", "job")
    papers = [_paper(invoice) for invoice in unsettled.order_by("due_on", "pk")]
    for draft in drafts_waiting():
        if draft.purpose == Purpose.DEPOSIT:
            reference = draft.read_content.reference
            papers.append(
                OpenPaper(
                    pk=draft.pk,
                    number=f"Deposit, {draft.job.number}",
                    references=(draft.job.number, reference),
                    client_id=draft.job.client_id,
                    client=draft.job.client.name,
                    balance_minor=draft_total(draft).minor,
                    is_draft=True,
                )
            )
    return papers


def card_payments_waiting() -> list[Payment]:
    """Return the card payments that no payout has brought to the account yet."""
    waiting = Payment.objects.filter(
        method=Method.CARD, payout_payment__isnull=True, bank_line__isnull=True
    ).filter(reversal__isnull=True)
    return list(waiting.select_related("client").order_by("received_on", "pk"))


def _paper(invoice: Any) -> OpenPaper:
    return OpenPaper(
        pk=invoice.pk,
        number=invoice.number,
        references=(
            invoice.number,
            invoice.job.number,
            invoice.snapshot.get("creditor_reference", ""),
        ),
        client_id=invoice.client.kept_id,
        client=invoice.client.name,
        balance_minor=invoice.balance_minor,
    )


def balance_words(paper: OpenPaper, currency: str) -> str:
    """Return a paper as a list to choose from names it."""
    owed = money_words(Money.from_minor(paper.balance_minor, currency))
    return f"{paper.number}, {paper.client}, {owed} open"
