import hashlib

import pytest
from django.db import DatabaseError, transaction
from django.test import Client as Browser
from django.urls import reverse

from invoicing.einvoices.operations import finish_einvoice, unfinished_data
from invoicing.einvoices.tasks import finish_einvoices
from invoicing.invoices.finishing import finish_document, unfinished, write_letter
from invoicing.invoices.models import DocumentKind, IssuedDocument
from studio.mail.models import Message
from studio.profile.models import StudioProfile
from tests.make import NOON
from tests.make_invoicing import make_invoice, make_line, make_order

pytestmark = pytest.mark.django_db


def test_the_data_is_made_once_and_kept_with_its_hash() -> None:
    invoice = make_invoice()
    StudioProfile.objects.update(trading_name="Another name")

    files = [
        finish_einvoice(invoice_id=invoice.pk, kind=kind, at=NOON)
        for kind in (DocumentKind.UBL, DocumentKind.HYBRID, DocumentKind.UBL)
    ]

    assert files[0].pk == files[2].pk
    for file in files:
        content = bytes(file.content)
        assert hashlib.sha256(content).hexdigest() == file.sha256
        assert b"Another name" not in content
    assert set(invoice.documents.values_list("kind", flat=True)) == {
        *("PDF", "HYB", "UBL")
    }


def test_kept_data_is_never_changed() -> None:
    invoice = make_invoice()
    finish_einvoice(invoice_id=invoice.pk, kind=DocumentKind.UBL, at=NOON)

    with pytest.raises(DatabaseError), transaction.atomic():
        IssuedDocument.objects.filter(invoice=invoice).update(kind="PDF")


def test_the_sweep_finishes_what_is_waiting(monkeypatch: pytest.MonkeyPatch) -> None:
    invoice = make_invoice()
    monkeypatch.setattr("invoicing.einvoices.tasks.timezone.now", lambda: NOON)
    assert len(unfinished_data(at=NOON)) == 2

    finish_einvoices()

    assert unfinished_data(at=NOON) == []
    assert invoice.documents.count() == 3


def test_data_before_the_paper_does_not_stop_the_paper_or_its_letter() -> None:
    invoice = make_invoice()
    finish_einvoice(invoice_id=invoice.pk, kind=DocumentKind.UBL, at=NOON)
    assert unfinished() == [invoice.pk]
    message = write_letter(invoice, at=NOON)
    assert message is not None

    file = finish_document(invoice_id=invoice.pk, at=NOON)

    assert Message.objects.waiting(at=NOON).get().files.get() == file


def test_the_page_offers_the_data_and_gives_it(client: Browser) -> None:
    invoice = make_invoice()
    client.force_login(invoice.job.owner)

    page = client.get(invoice.get_absolute_url()).content.decode()
    data = client.get(reverse("invoicing:einvoice_ubl", args=[invoice.pk]))

    assert "E-invoice (PDF with data)" in page
    assert data["Content-Type"] == "application/xml"
    assert "2026-0001-ubl.xml" in data["Content-Disposition"]


def test_a_paper_without_data_says_why_and_keeps_its_pdf(client: Browser) -> None:
    order = make_order(lines=(make_line(rate=0),))
    StudioProfile.objects.update(
        address="", sort_code="", iban="", tax_number="", tax_registered=False
    )
    invoice = make_invoice(order)
    client.force_login(invoice.job.owner)

    page = client.get(invoice.get_absolute_url()).content.decode()
    answer = client.get(
        reverse("invoicing:einvoice_pdf", args=[invoice.pk]), follow=True
    )

    assert "UBL data" not in page
    assert "country is not known" in answer.content.decode()
    assert finish_document(invoice_id=invoice.pk, at=NOON).size
