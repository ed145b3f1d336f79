"""What follows an issue: the paper's bytes, made once, and the letter that waits."""

from __future__ import annotations

from datetime import datetime

from django.db import IntegrityError, transaction

from invoicing.invoices.documents import print_invoice
from invoicing.invoices.models import DocumentKind, Invoice, IssuedDocument
from invoicing.invoices.printed import printed_invoice
from studio.faults import faultpoint
from studio.files.models import StoredFile
from studio.files.operations import store_file
from studio.mail.models import Message
from studio.mail.operations import Letter, attach_document, write_message
from studio.money import Money
from studio.wording import long_date, money_words


def finish_document(*, invoice_id: int, at: datetime) -> StoredFile:
    """Make the PDF of an issued paper from its snapshot, once, and let its mail go.

    Safe to run twice or at once: one row for each paper and kind is kept.
    """
    invoice = Invoice.objects.get(pk=invoice_id)
    standing = IssuedDocument.objects.filter(invoice=invoice, kind=DocumentKind.PDF)
    if document := standing.select_related("file").first():
        _release(invoice, document.file)
        return document.file
    content = print_invoice(printed_invoice(invoice.snapshot))
    faultpoint("file_written_row_not")
    try:
        with transaction.atomic():
            file = store_file(
                name=f"{invoice.number}.pdf",
                content_type="application/pdf",
                content=content,
                at=at,
            )
            IssuedDocument.objects.create(
                invoice=invoice, kind=DocumentKind.PDF, file=file
            )
            _release(invoice, file)
    except IntegrityError:  # another process was quicker
        return standing.select_related("file").get().file
    return file


def unfinished() -> list[int]:
    """Return the ids of issued papers whose PDF is still to be made."""
    rows = Invoice.objects.exclude(documents__kind=DocumentKind.PDF).order_by("pk")
    return list(rows.values_list("pk", flat=True)[:200])


def write_letter(invoice: Invoice, *, at: datetime) -> Message | None:
    """Put the paper's letter to the client into the outbox; None without an address.

    It waits until the paper is made.
    """
    client = invoice.client
    if not client.email:
        return None
    papers = invoice.documents.filter(kind=DocumentKind.PDF)
    files = [document.file for document in papers.select_related("file")]
    return write_message(
        occasion=f"invoice:{invoice.pk}",
        about=invoice,
        letter=letter_for(invoice),
        at=at,
        documents_wanted=0 if files else 1,
        files=files,
    )


def letter_for(invoice: Invoice) -> Letter:
    """Return what the client is told when a paper goes out."""
    studio = invoice.snapshot["seller"]["trading_name"]
    total = money_words(Money.from_minor(invoice.gross_minor, invoice.currency))
    if invoice.is_credit_note:
        kind, said = "Credit note", f"It takes {total} back."
    else:
        kind = "Invoice"
        said = f"The sum is {total}, to be paid by {long_date(invoice.due_on)}."
    body = (
        f"Dear {invoice.client.addressee},\n\n{kind} {invoice.number} for "
        f"“{invoice.job.title}” comes with this message. {said}\n\n{studio}\n"
    )
    return Letter(
        address=invoice.client.email,
        recipient_name=invoice.client.addressee,
        subject=f"{kind} {invoice.number} from {studio}",
        body=body,
    )


def _release(invoice: Invoice, file: StoredFile) -> None:
    for message in Message.objects.about(invoice).filter(documents_wanted__gt=0):
        attach_document(message, file)
