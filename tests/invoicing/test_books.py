"""What `verify` finds in the books after somebody has changed the database."""

import pytest
from django.db.models import F

from invoicing.invoices.balances import InvoiceBalance
from invoicing.invoices.models import Invoice, TaxRow
from invoicing.invoices.taking_back import credit_invoice
from studio.series.models import SeriesCounter
from tests.make import NOON, make_person
from tests.make_invoicing import make_invoice
from tests.unguarded import unguarded
from tests.world import assert_world, faults

pytestmark = pytest.mark.django_db


def test_honest_books_are_in_order() -> None:
    make_invoice()
    wrong = make_invoice()
    credit_invoice(
        invoice_id=wrong.pk, because="Wrong client", by=make_person(), at=NOON
    )

    assert_world()


def test_a_changed_sum_is_found_by_chain_and_by_sums() -> None:
    paper = make_invoice()
    with unguarded("invoicing_invoice"):
        Invoice.objects.update(
            gross_minor=F("gross_minor") + 100, net_minor=F("net_minor") + 100
        )

    found = faults()

    assert found["the chain of issued papers"] == (
        f"{paper.number} was changed after its issue.",
    )
    assert len(found["sums of issued papers"]) == 3


def test_a_changed_snapshot_is_found() -> None:
    paper = make_invoice()
    with unguarded("invoicing_invoice"):
        paper.snapshot["buyer"]["name"] = "Somebody else"
        Invoice.objects.filter(pk=paper.pk).update(snapshot=paper.snapshot)

    assert faults()["the chain of issued papers"] == (
        f"What {paper.number} says was changed after its issue.",
    )


def test_a_paper_that_was_taken_out_is_found() -> None:
    make_invoice()
    second = make_invoice()
    make_invoice()
    with unguarded("invoicing_taxrow"), unguarded("invoicing_invoice"):
        TaxRow.objects.filter(invoice=second).delete()
        InvoiceBalance.objects.filter(invoice=second).delete()
        Invoice.objects.filter(pk=second.pk)._raw_delete("default")

    found = faults()

    assert found["numbers of issued papers"] == (
        "Number 2 of INVOICE 2026 is missing.",
    )
    assert (
        "A paper before 2026-0003 is missing from the chain."
        in (found["the chain of issued papers"])
    )


def test_the_last_paper_taken_out_is_found() -> None:
    paper = make_invoice()
    with unguarded("invoicing_taxrow"), unguarded("invoicing_invoice"):
        TaxRow.objects.all()._raw_delete("default")
        InvoiceBalance.objects.all()._raw_delete("default")
        Invoice.objects.filter(pk=paper.pk)._raw_delete("default")

    found = faults()

    assert found["the chain of issued papers"] == (
        "The last issued papers are missing.",
    )
    assert found["numbers of issued papers"] == (
        "The counter of INVOICE 2026 does not stand at 0.",
    )


def test_a_counter_that_was_put_back_is_found() -> None:
    make_invoice()
    SeriesCounter.objects.filter(kind="INVOICE").update(last=0)

    assert faults()["numbers of issued papers"] == (
        "The counter of INVOICE 2026 does not stand at 1.",
    )
