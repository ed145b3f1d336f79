"""Crediting: an invoice is taken back by a paper of its own, whole or in part."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime
from decimal import Decimal

from django.db import transaction

from invoicing.invoices.content import Content
from invoicing.invoices.credited import Credited, CreditError, Piece, Row
from invoicing.invoices.crediting import part, whole
from invoicing.invoices.issuing import issue_paper, studio_day
from invoicing.invoices.models import Invoice
from invoicing.invoices.snapshots import Paper
from invoicing.invoices.states import Purpose, Series
from invoicing.tax.model import Pair, plain_rate
from jobs.jobs.models import Job
from studio.people.models import Person


@transaction.atomic
def credit_invoice(
    *,
    invoice_id: int,
    because: str,
    by: Person,
    at: datetime,
    pieces: Sequence[Piece] = (),
) -> Invoice:
    """Take an invoice back by a credit note with its own number.

    Without pieces all that is left of it. Two at once wait for each other at the job,
    so together they take no more than there is. Raises CreditError.
    """
    invoice = Invoice.objects.select_related("job").get(pk=invoice_id)
    Job.objects.select_for_update().get(pk=invoice.job_id)
    if invoice.is_credit_note:
        raise CreditError("A credit note is not credited.")
    credited = credited_of(invoice)
    if credited.is_spent:
        notes = invoice.credit_notes.order_by("chain_sequence")
        before = ", ".join(notes.values_list("number", flat=True))
        raise CreditError(f"{invoice.number} was credited before, by {before}.")
    if not because.strip():
        raise CreditError("Say why the invoice is taken back; the credit note tells.")
    note = part(credited, pieces) if pieces else whole(credited)
    on = studio_day(at)
    paper = Paper(
        series=Series.CREDIT_NOTE,
        purpose=Purpose.CREDIT,
        job=invoice.job,
        content=note.content,
        totals=note.totals,
        issued_on=on,
        due_on=on,
        tax_point_on=on,
        note=because.strip(),
        corrects=invoice,
        credited=note.lines,
        takes_all=note.takes_all,
    )
    return issue_paper(paper, draft=None, by=by, at=at)


def credited_of(invoice: Invoice) -> Credited:
    """Return an invoice with what its credit notes took back so far."""
    content = Content.from_json(invoice.snapshot["content"])
    notes = list(
        invoice.credit_notes.prefetch_related("tax_rows").order_by("chain_sequence")
    )
    credited = Credited(content=content, rows=_rows(invoice))
    return replace(
        credited,
        before=[_rows(note) for note in notes],
        lines_before=[_lines_of(note, credited) for note in notes],
    )


def _rows(paper: Invoice) -> dict[Pair, Row]:
    return {
        (row.category, plain_rate(Decimal(row.rate_basis_points) / 100)): (
            row.taxable_minor,
            row.tax_minor,
        )
        for row in paper.tax_rows.all()
    }


def _lines_of(note: Invoice, credited: Credited) -> dict[int, int]:
    """Return what a credit note took of each line; those of earlier days took all."""
    written = note.snapshot.get("credited")
    if written is None:
        return dict(enumerate(credited.line_sums))
    return {int(line): minor for line, minor in written.items()}
