"""Open lines of the bank, each with what it is probably for."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import timedelta
from typing import Any, Final

from invoicing.bank.matching import OpenPaper, Proposal, propose
from invoicing.bank.models import BankLine
from invoicing.invoices.models import Invoice
from invoicing.invoices.queries import draft_total, drafts_waiting
from invoicing.invoices.states import Purpose
from invoicing.payments.models import Method, Payment
from invoicing.purchases.models import Purchase
from studio.money import Money
from studio.wording import money_words

NEAR: Final = timedelta(days=6)


@dataclass(frozen=True, slots=True, kw_only=True)
class LineRow:
    """One open line, with the best guess at what it is."""

    line: BankLine
    proposal: Proposal | None
    purchase: Purchase | None

    @property
    def reason(self) -> str:
        """Why the guess is made, in words."""
        if self.proposal:
            return self.proposal.reason
        return f"Same sum as {self.purchase}" if self.purchase else ""

    @property
    def is_sure(self) -> bool:
        """Whether number or name and the sum agree."""
        return bool(self.proposal and self.proposal.is_sure)

    @property
    def targets(self) -> str:
        """What the guess names."""
        if self.proposal:
            return ", ".join(paper.number for paper in self.proposal.papers)
        return str(self.purchase) if self.purchase else ""


def open_rows() -> list[LineRow]:
    """Return the open lines, the oldest first, with their proposals."""
    lines = list(BankLine.objects.open().order_by("booked_on", "pk")[:500])
    papers = open_papers()
    taken: set[tuple[int, bool]] = set()
    rows = []
    for line in lines:
        free = [paper for paper in papers if (paper.pk, paper.is_draft) not in taken]
        row = row_of_line(line, free)
        if row.is_sure and row.proposal:
            taken |= {(paper.pk, paper.is_draft) for paper in row.proposal.papers}
        rows.append(row)
    return rows


def row_of_line(line: BankLine, papers: Sequence[OpenPaper]) -> LineRow:
    """Return one line with the best proposal among open papers or purchases."""
    if line.amount_minor > 0:
        found = propose(line.amount_minor, line.text, line.party, papers)
        return LineRow(line=line, proposal=found, purchase=None)
    near = Purchase.objects.standing().filter(
        bank_line__isnull=True,
        gross_minor=-line.amount_minor,
        currency=line.currency,
        bought_on__lte=line.booked_on,
    )
    near = near.exclude(paid_on__lt=line.booked_on - NEAR)
    return LineRow(
        line=line, proposal=None, purchase=near.order_by("bought_on").first()
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
