from datetime import timedelta

import pytest
from django.db import DatabaseError, transaction

from invoicing.invoices.credited import CreditError
from invoicing.invoices.issuing import (
    IssueDateError,
    issue_invoice,
)
from invoicing.invoices.models import Invoice
from invoicing.invoices.operations import (
    DraftError,
    draft_balance_invoice,
    draft_deposit_invoice,
)
from invoicing.invoices.states import Purpose, Series
from invoicing.invoices.taking_back import credit_invoice
from invoicing.payments.operations import balance_of
from jobs.jobs.models import Job
from tests.make import NOON, make_person
from tests.make_invoicing import make_invoice, make_line, make_order

pytestmark = pytest.mark.django_db


def test_the_number_is_taken_at_issue_and_counts_without_a_gap() -> None:
    numbers = [make_invoice().number for _ in range(3)]

    assert numbers == ["2026-0001", "2026-0002", "2026-0003"]


def test_a_failure_while_issuing_leaves_no_gap() -> None:
    first = make_invoice()
    order = make_order()
    by = Job.objects.get(pk=order.job_id).owner
    draft = draft_balance_invoice(order=order, by=by, at=NOON)
    with pytest.raises(IssueDateError, match="cannot carry an earlier date"):
        issue_invoice(draft_id=draft.pk, by=by, at=NOON - timedelta(days=1))

    second = issue_invoice(draft_id=draft.pk, by=by, at=NOON)

    assert (first.place, second.place) == (1, 2)


def test_issuing_twice_gives_the_same_invoice() -> None:
    invoice = make_invoice()
    assert invoice.draft is not None

    again = issue_invoice(draft_id=invoice.draft.pk, by=invoice.issued_by, at=NOON)

    assert again.pk == invoice.pk
    assert Invoice.objects.count() == 1


@pytest.mark.parametrize("change", ["update", "delete"])
def test_the_database_refuses_to_change_an_issued_invoice(change: str) -> None:
    rows = Invoice.objects.filter(pk=make_invoice().pk)

    with pytest.raises(DatabaseError, match="never changed"), transaction.atomic():
        rows.update(gross_minor=1) if change == "update" else rows._raw_delete(
            "default"
        )


def test_deposit_and_balance_add_up_to_the_order_to_the_cent() -> None:
    # Worked example: 100.02 with 20 % tax in it holds 16.67; a deposit of 50.02 holds
    # 8.34; the rest holds 8.33 by subtraction, 8.33 or 8.34 if it were worked out
    # afresh. Common practice, no source: tax of an order is invoiced once.
    order = make_order(deposit_minor=5_002)
    by = make_person()
    draft = draft_deposit_invoice(order=order, by=by, at=NOON)
    assert draft is not None
    deposit = issue_invoice(draft_id=draft.pk, by=by, at=NOON)
    rest = make_invoice(order, by=by)

    assert (deposit.tax_minor, rest.tax_minor) == (834, 833)
    assert deposit.gross_minor + rest.gross_minor == 10_002
    assert (deposit.purpose, rest.purpose) == (Purpose.DEPOSIT, Purpose.BALANCE)
    off = rest.snapshot["content"]["deductions"]
    assert [(row["number"], row["tax_minor"]) for row in off] == [(deposit.number, 834)]


def test_a_deposit_is_divided_over_the_rates_by_gross_share() -> None:
    lines = (make_line(30_000, 2000), make_line(10_000, 500))
    order = make_order(lines=lines, deposit_minor=10_000)

    draft = draft_deposit_invoice(order=order, by=make_person(), at=NOON)

    assert draft is not None
    shares = [
        (line.tax_rate_basis_points, line.unit_price_minor)
        for line in draft.read_content.lines
    ]
    assert shares == [(2000, 7_500), (500, 2_500)]


def test_the_rest_is_not_invoiced_twice() -> None:
    order = make_order()
    invoice = make_invoice(order)

    with pytest.raises(DraftError, match=invoice.number):
        draft_balance_invoice(order=order, by=make_person(), at=NOON)


def test_a_credit_note_takes_an_invoice_back_with_a_number_of_its_own() -> None:
    invoice, by = make_invoice(), make_person()

    credit = credit_invoice(
        invoice_id=invoice.pk, because="Wrong client", by=by, at=NOON
    )

    assert (credit.series, credit.number) == (Series.CREDIT_NOTE, "CN-2026-001")
    assert (credit.gross_minor, credit.tax_minor) == (10_002, 1_667)
    assert balance_of(invoice) == 0
    with pytest.raises(CreditError, match="credited before"):
        credit_invoice(invoice_id=invoice.pk, because="Again", by=by, at=NOON)


def test_after_a_credit_note_the_order_can_be_invoiced_again() -> None:
    order = make_order()
    wrong, by = make_invoice(order), make_person()
    credit_invoice(invoice_id=wrong.pk, because="Wrong address", by=by, at=NOON)

    assert make_invoice(order).gross_minor == wrong.gross_minor


def test_papers_are_chained() -> None:
    first, second = make_invoice(), make_invoice()

    assert second.previous_hash == first.hash
    assert second.chain_sequence == first.chain_sequence + 1
