"""The data of issued papers, made once after the issue and kept like their PDF."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import Final

from django.db import IntegrityError, transaction

from invoicing.einvoices.terms import refusal, terms_of
from invoicing.einvoices.writing import write_hybrid, write_xml
from invoicing.invoices.finishing import finish_document
from invoicing.invoices.models import DocumentKind, Invoice, IssuedDocument
from studio.files.models import StoredFile
from studio.files.operations import store_file

DATA_KINDS: Final = (DocumentKind.HYBRID, DocumentKind.UBL)
SWEPT: Final = timedelta(days=2)
MOST_AT_ONCE: Final = 50


def finish_einvoice(*, invoice_id: int, kind: DocumentKind, at: datetime) -> StoredFile:
    """Make one kind of a paper's data from its snapshot, once, and keep it.

    Safe to run twice or at once. Raises EInvoiceError for what the standard cannot
    express; such a paper has its PDF alone.
    """
    invoice = Invoice.objects.get(pk=invoice_id)
    standing = IssuedDocument.objects.filter(invoice=invoice, kind=kind)
    if document := standing.select_related("file").first():
        return document.file
    terms = terms_of(invoice.snapshot)
    if kind == DocumentKind.HYBRID:
        pdf = bytes(finish_document(invoice_id=invoice.pk, at=at).content)
        content, ending, kept_as = write_hybrid(pdf, terms), "data.pdf", "pdf"
    else:
        content, ending, kept_as = write_xml(terms, syntax="ubl"), "ubl.xml", "xml"
    try:
        with transaction.atomic():
            file = store_file(
                name=f"{invoice.number}-{ending}",
                content_type=f"application/{kept_as}",
                content=content,
                at=at,
            )
            IssuedDocument.objects.create(invoice=invoice, kind=kind, file=file)
    except IntegrityError:  # another process was quicker
        return standing.select_related("file").get().file
    return file


def unfinished_data(*, at: datetime) -> list[tuple[int, DocumentKind]]:
    """Return the papers of the last days whose data is still to be made.

    Older ones get theirs when somebody asks for it.
    """
    waiting = []
    for kind in DATA_KINDS:
        papers = Invoice.objects.filter(issued_at__gte=at - SWEPT)
        papers = papers.exclude(documents__kind=kind).order_by("pk")
        waiting += [
            (paper.pk, kind)
            for paper in papers[:MOST_AT_ONCE]
            if not refusal(paper.snapshot)
        ]
    return waiting
