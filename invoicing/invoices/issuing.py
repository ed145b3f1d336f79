"""Issuing: the moment in which a paper of the books comes to be."""

from __future__ import annotations

import hashlib
import json
from datetime import date, datetime, timedelta
from typing import Any, Final

from django.db import transaction

from invoicing.invoices.before_issue import Facts, look_over
from invoicing.invoices.models import Invoice, InvoiceDraft, TaxRow
from invoicing.invoices.operations import DraftError
from invoicing.invoices.snapshots import Paper, snapshot_of
from invoicing.invoices.states import Purpose, Series
from invoicing.invoices.treatments import under
from invoicing.periods.operations import refuse_closed
from invoicing.tax import Totals
from studio.errors import DomainError
from studio.faults import faultpoint
from studio.history.operations import link_hash, record, take_chain
from studio.money import exponent
from studio.people.models import Person
from studio.profile.models import StudioProfile
from studio.series.models import SeriesKind
from studio.series.operations import Number, take_number
from studio.wording import day_year

CHAIN: Final = "invoices"


class IssueDateError(DomainError):
    """An issue date would go back within its series."""


@transaction.atomic
def issue_invoice(
    *, draft_id: int, by: Person | None, at: datetime, tax_point_on: date | None = None
) -> Invoice:
    """Issue a draft: number, snapshot, chain and journal in one short transaction.

    A draft that was issued before gives the invoice that it became. `tax_point_on` is
    the day on which its money came in before it. The bytes of the paper are made
    afterwards, by `finish_documents`. Raises DraftError, IssueDateError,
    ClosedPeriodError.
    """
    drafts = InvoiceDraft.objects.select_for_update(of=("self",))
    draft = drafts.select_related("job__client").get(pk=draft_id)
    if draft.is_issued:
        return draft.invoice
    if draft.dropped_at:
        raise DraftError("This draft was dropped.")
    profile = StudioProfile.load()
    content = under(draft.read_content, profile)
    facts = Facts(
        content=content,
        client=draft.job.client,
        profile=profile,
        simplified=draft.simplified,
    )
    totals = _checked(facts)
    on = studio_day(at)
    paper = Paper(
        series=Series.INVOICE,
        purpose=Purpose(draft.purpose),
        job=draft.job,
        content=content,
        totals=totals,
        issued_on=on,
        due_on=on + timedelta(days=draft.due_days),
        tax_point_on=tax_point_on or on,
        note=draft.note,
        simplified=draft.simplified,
        is_paid=tax_point_on is not None,
    )
    return issue_paper(paper, draft=draft, by=by, at=at)


def _checked(facts: Facts) -> Totals:
    if missing := look_over(facts).missing:
        raise DraftError(" ".join(missing))
    totals = facts.content.totals()
    if totals.gross < 0:
        raise DraftError(
            "The sum is below zero: that is a credit note, not an invoice."
        )
    return totals


def issue_paper(
    paper: Paper, *, draft: InvoiceDraft | None, by: Person | None, at: datetime
) -> Invoice:
    """Give a paper its number and keep it; the caller's transaction is open.

    Raises IssueDateError, ClosedPeriodError.
    """
    kind = SeriesKind(paper.series)
    number = take_number(kind, on=paper.issued_on)
    faultpoint("number_taken")
    last = Invoice.objects.filter(series=paper.series).order_by("-issued_on").first()
    if last and last.issued_on > paper.issued_on:
        raise IssueDateError(
            f"{last.number} was issued on {day_year(last.issued_on)}; the next paper "
            "cannot carry an earlier date. Check this machine's clock."
        )
    snapshot = snapshot_of(paper, number=number.written)
    invoice = _row(paper, number, snapshot)
    invoice.draft, invoice.issued_at, invoice.issued_by = draft, at, by
    _chain(invoice)
    refuse_closed(paper.tax_point_on, what="a paper that counts")
    invoice.save(force_insert=True)
    _keep_breakdown(invoice, paper.totals)
    record(
        invoice,
        "issued",
        by=by,
        at=at,
        data={"number": invoice.number, "gross_minor": invoice.gross_minor},
    )
    faultpoint("before_commit")
    return invoice


def _keep_breakdown(invoice: Invoice, totals: Totals) -> None:
    digits = exponent(invoice.currency)
    TaxRow.objects.bulk_create(
        TaxRow(
            invoice=invoice,
            category=row.category,
            rate_basis_points=int(row.rate * 100),
            taxable_minor=int(row.taxable.scaleb(digits)),
            tax_minor=int(row.tax.scaleb(digits)),
        )
        for row in totals.breakdown
    )


def _row(paper: Paper, number: Number, snapshot: dict[str, Any]) -> Invoice:
    digits = exponent(paper.content.currency)
    written = json.dumps(snapshot, sort_keys=True, separators=(",", ":"))
    return Invoice(
        series=paper.series,
        purpose=paper.purpose,
        number=number.written,
        year=number.year,
        place=number.place,
        job=paper.job,
        client=paper.job.client,
        corrects=paper.corrects,
        issued_on=paper.issued_on,
        due_on=paper.due_on,
        tax_point_on=paper.tax_point_on,
        currency=paper.content.currency,
        net_minor=int(paper.totals.net.scaleb(digits)),
        tax_minor=int(paper.totals.tax.scaleb(digits)),
        gross_minor=int(paper.totals.gross.scaleb(digits)),
        snapshot=snapshot,
        snapshot_hash=hashlib.sha256(written.encode()).hexdigest(),
    )


def _chain(invoice: Invoice) -> None:
    head = take_chain(CHAIN)
    invoice.chain_sequence = head.sequence + 1
    invoice.previous_hash = head.hash
    invoice.hash = link_hash(head.hash, chained_content(invoice))
    head.sequence, head.hash = invoice.chain_sequence, invoice.hash
    head.save()


def chained_content(invoice: Invoice) -> dict[str, Any]:
    """Return what the hash of an issued paper covers."""
    return {
        "sequence": invoice.chain_sequence,
        "series": str(invoice.series),
        "number": invoice.number,
        "issued_on": invoice.issued_on.isoformat(),
        "gross_minor": invoice.gross_minor,
        "snapshot": invoice.snapshot_hash,
    }


def studio_day(at: datetime) -> date:
    """Return the day of a moment by the studio's clock."""
    return at.astimezone(StudioProfile.load().zone).date()
