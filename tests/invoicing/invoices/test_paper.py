from io import BytesIO

import pytest
from pypdf import PdfReader

from invoicing.invoices.documents import print_invoice
from invoicing.invoices.finishing import finish_document, unfinished, write_letter
from invoicing.invoices.issuing import issue_invoice
from invoicing.invoices.models import Invoice
from invoicing.invoices.operations import draft_deposit_invoice
from invoicing.invoices.printed import printed_invoice
from invoicing.invoices.taking_back import credit_invoice
from studio.mail.models import Message
from tests.make import NOON, make_client, make_job, make_person
from tests.make_invoicing import make_invoice, make_line, make_order

pytestmark = pytest.mark.django_db


def words_of(paper: bytes) -> str:
    pages = PdfReader(BytesIO(paper)).pages
    return " ".join(" ".join(page.extract_text().split()) for page in pages)


def test_the_paper_says_what_was_issued() -> None:
    paper = words_of(print_invoice(printed_invoice(make_invoice().snapshot)))

    for words in ("2026-0001", "Meyer Bakery", "£100.02", "£16.67", "Q-2026-001"):
        assert words in paper


def test_an_equal_snapshot_gives_equal_bytes() -> None:
    snapshot = make_invoice().snapshot

    assert print_invoice(printed_invoice(snapshot)) == print_invoice(
        printed_invoice(snapshot)
    )


def test_the_balance_names_the_deposit_that_it_takes_off() -> None:
    order, by = make_order(deposit_minor=5_002), make_person()
    draft = draft_deposit_invoice(order=order, by=by, at=NOON)
    assert draft is not None
    deposit = issue_invoice(draft_id=draft.pk, by=by, at=NOON)

    paper = words_of(print_invoice(printed_invoice(make_invoice(order).snapshot)))

    assert f"Deposit, invoice {deposit.number}" in paper
    assert "−£50.02" in paper
    assert "To pay £50.00" in paper


def test_a_credit_note_names_what_it_takes_back_and_asks_for_no_money() -> None:
    invoice, by = make_invoice(), make_person()
    credit = credit_invoice(invoice_id=invoice.pk, because="Wrong", by=by, at=NOON)

    paper = words_of(print_invoice(printed_invoice(credit.snapshot)))

    assert f"Takes back invoice {invoice.number}" in paper
    assert "How to pay" not in paper


def test_forty_lines_go_over_two_pages_with_the_head_repeated() -> None:
    lines = tuple(make_line(1_000 + n) for n in range(40))
    invoice = make_invoice(make_order(lines=lines))

    pages = PdfReader(BytesIO(print_invoice(printed_invoice(invoice.snapshot)))).pages

    assert len(pages) == 2
    assert all("Quantity" in page.extract_text() for page in pages)


def test_hostile_names_are_printed_as_they_stand() -> None:
    client = make_client('<img src="file:///etc/passwd"/> & Söhne')
    invoice = make_invoice(make_order(make_job("Πορτρέτα Анна", client=client)))

    paper = words_of(print_invoice(printed_invoice(invoice.snapshot)))

    assert '<img src="file:///etc/passwd"/> & Söhne' in paper
    assert "Πορτρέτα Анна" in paper


def test_the_paper_is_made_once_and_its_letter_waits_for_it() -> None:
    invoice = make_invoice()
    message = write_letter(invoice, at=NOON)
    assert message is not None
    assert not Message.objects.waiting(at=NOON).exists()
    assert unfinished() == [invoice.pk]

    files = {finish_document(invoice_id=invoice.pk, at=NOON).pk for _ in range(2)}

    assert len(files) == 1
    assert Message.objects.waiting(at=NOON).get().files.get().pk in files
    assert unfinished() == []


def test_the_stored_sums_are_those_of_the_snapshot() -> None:
    invoice = make_invoice(make_order(lines=(make_line(9_999, 2000),)))
    stored = Invoice.objects.get(pk=invoice.pk)

    # 99.99 at 20 % has no net with two decimals that rounds back; the price holds.
    assert (stored.gross_minor, stored.tax_minor, stored.net_minor) == (
        9_999,
        1_667,
        8_332,
    )
