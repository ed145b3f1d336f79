"""Drafts under a tax treatment, and what their papers say."""

from __future__ import annotations

from io import BytesIO
from typing import Any

from pypdf import PdfReader

from invoicing.invoices.documents import print_invoice
from invoicing.invoices.issuing import issue_invoice
from invoicing.invoices.models import Invoice, InvoiceDraft
from invoicing.invoices.operations import (
    DraftChange,
    change_draft,
    draft_balance_invoice,
)
from invoicing.invoices.printed import printed_invoice
from jobs.clients.models import ClientKind
from studio.profile.models import StudioProfile
from tests.make import NOON, make_client, make_job
from tests.make_invoicing import make_line, make_order

FIRM = {
    "kind": ClientKind.ORGANISATION,
    "address": "1 Mill Street\nKöln",
    "country": "DE",
    "tax_number": "DE 136695976",
}


def draft_for(
    treatment: str, *lines: Any, client: dict[str, Any] | None = None, **fields: Any
) -> InvoiceDraft:
    job = make_job(client=make_client(**(FIRM | (client or {}))))
    lines = lines or (make_line(),)
    order = make_order(job, lines=lines, price_basis="net")
    StudioProfile.objects.update(country="GB")
    draft = draft_balance_invoice(order=order, by=job.owner, at=NOON)
    change = DraftChange(
        lines=draft.read_content.lines,
        due_days=14,
        note="",
        treatment=treatment,
        **fields,
    )
    return change_draft(
        draft_id=draft.pk, change=change, version=1, by=job.owner, at=NOON
    )


def issue(draft: InvoiceDraft) -> Invoice:
    return issue_invoice(draft_id=draft.pk, by=None, at=NOON)


def words_of(invoice: Invoice) -> str:
    paper = print_invoice(printed_invoice(invoice.snapshot))
    pages = PdfReader(BytesIO(paper)).pages
    return " ".join(" ".join(page.extract_text().split()) for page in pages)


def rows_of(invoice: Invoice) -> list[tuple[str, int, int, int]]:
    names = ("category", "rate_basis_points", "taxable_minor", "tax_minor")
    return list(invoice.tax_rows.order_by("category").values_list(*names))
