"""Credit notes in part: kept, told in the books, and never more than there is."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

import pytest
from django.test import Client as Browser
from django.urls import reverse

from invoicing.books.accounts import Account
from invoicing.books.bases import ACCRUAL
from invoicing.books.journal import balances, entries
from invoicing.books.queries import read_facts
from invoicing.books.tax_summary import tax_summary
from invoicing.invoices.ahead import invoiced_ahead
from invoicing.invoices.credited import CreditError, Piece
from invoicing.invoices.issuing import issue_invoice
from invoicing.invoices.models import Invoice, stands
from invoicing.invoices.operations import (
    DraftError,
    draft_balance_invoice,
    draft_deposit_invoice,
)
from invoicing.invoices.queries import row_of
from invoicing.invoices.states import Standing
from invoicing.invoices.taking_back import credit_invoice
from invoicing.owed.ageing import ages
from invoicing.payments.operations import record_payment
from jobs.jobs.models import Job
from studio.profile.models import StudioProfile
from tests.make import NOON, make_person
from tests.make_invoicing import (
    TODAY,
    make_invoice,
    make_line,
    make_order,
    make_received,
)
from tests.world import assert_world

pytestmark = pytest.mark.django_db
HALF = Piece(line=0, amount_minor=5_001)


def credit(invoice: Invoice, *pieces: Piece, **fields: Any) -> Invoice:
    values: dict[str, Any] = {"because": "Too dear", "by": make_person(), "at": NOON}
    return credit_invoice(invoice_id=invoice.pk, pieces=pieces, **(values | fields))


def counted(invoice: Invoice) -> Any:
    rows = Invoice.objects.with_balance().select_related("client", "job")
    return row_of(rows.get(pk=invoice.pk), on=TODAY)


def test_a_part_is_kept_by_line_and_rate_and_names_the_invoice() -> None:
    invoice = make_invoice()

    note = credit(invoice, HALF)

    # 50.01 of 100.02 with 20 % in it: 16.67 less 8.34 (8.335) leaves 8.33.
    assert (note.gross_minor, note.tax_minor) == (5_001, 833)
    assert note.snapshot["credited"] == {"0": 5_001}
    assert note.snapshot["corrects"]["number"] == invoice.number
    assert counted(invoice).balance.minor == 5_001
    assert counted(invoice).standing is Standing.OPEN
    assert_world()


def test_of_one_paper_it_is_said_whether_it_stands_as_of_many() -> None:
    whole, part, _ = make_invoice(), make_invoice(), make_invoice()
    credit(whole, Piece(line=0, amount_minor=whole.gross_minor))
    credit(part, HALF)

    papers = Invoice.objects.with_balance()

    told = {one.pk for one in papers if stands(one)}
    assert told == set(Invoice.objects.standing().values_list("pk", flat=True))
    assert whole.pk not in told
    assert len(told) == 2


def test_the_books_hold_what_is_left() -> None:
    invoice = make_invoice()
    credit(invoice, HALF)

    facts = read_facts("GBP")
    summary = tax_summary(facts, basis=ACCRUAL, first=TODAY, last=TODAY)
    (row,) = summary.rows(sales=True)
    held = balances(entries(facts))
    (age,) = ages(facts, TODAY)

    assert (row.taxable_minor, row.tax_minor) == (4_167, 834)
    assert held[Account.RECEIVABLE] == 5_001 == age.owed_minor
    assert (held[Account.SALES], held[Account.OUTPUT_TAX]) == (-4_167, -834)


def test_a_period_of_credit_notes_alone_is_below_zero() -> None:
    invoice = make_invoice()
    later = NOON + timedelta(days=40)
    credit(invoice, HALF, at=later)

    day = later.date()
    summary = tax_summary(read_facts("GBP"), basis=ACCRUAL, first=day, last=day)

    assert summary.due_minor == -833


def test_the_rest_can_be_taken_back_once() -> None:
    invoice = make_invoice()
    first = credit(invoice, HALF)
    second = credit(invoice)

    assert first.tax_minor + second.tax_minor == invoice.tax_minor
    assert second.snapshot["takes_all"]
    assert counted(invoice).standing is Standing.CREDITED
    with pytest.raises(CreditError, match="CN-2026-001, CN-2026-002"):
        credit(invoice)
    held = balances(entries(read_facts("GBP")))
    assert [minor for minor in held.values() if minor] == []
    assert_world()


def test_a_deposit_taken_back_in_part_takes_off_what_is_left_of_it() -> None:
    order, by = make_order(deposit_minor=5_002), make_person()
    draft = draft_deposit_invoice(order=order, by=by, at=NOON)
    assert draft is not None
    deposit = issue_invoice(draft_id=draft.pk, by=by, at=NOON)
    credit(deposit, Piece(line=0, amount_minor=2_002))

    assert invoiced_ahead(Job.objects.get(pk=order.job_id)) == [deposit]
    rest = make_invoice(order)

    assert rest.gross_minor == 10_002 - 3_000
    held = balances(entries(read_facts("GBP")))
    assert held.get(Account.DEPOSITS, 0) == 0
    assert held[Account.RECEIVABLE] == 10_002


def test_after_a_part_the_rest_is_not_invoiced_again() -> None:
    order = make_order()
    credit(make_invoice(order), HALF)

    with pytest.raises(DraftError, match="invoiced before"):
        draft_balance_invoice(order=order, by=make_person(), at=NOON)


def test_what_was_paid_beyond_is_told_as_to_be_paid_back(client: Browser) -> None:
    invoice = make_invoice()
    record_payment(
        money=make_received(10_002),
        shares={invoice.pk: 10_002},
        by=make_person(),
        at=NOON,
    )
    credit(invoice, HALF)
    client.force_login(make_person())

    page = client.get(invoice.get_absolute_url()).content.decode()

    assert "£50.01 to pay back" in page
    assert counted(invoice).standing is Standing.PAID


def test_a_credit_note_shows_the_tax_of_its_invoice() -> None:
    # Common practice, no source: rates and words are those of the day of supply.
    invoice = make_invoice()
    StudioProfile.objects.update(tax_registered=False, tax_number="")

    note = credit(invoice, HALF)

    assert note.snapshot["seller"]["tax_number"] == "GB 000 0000 00"
    assert [row.category for row in note.tax_rows.all()] == ["S"]


@pytest.mark.parametrize(
    ("posted", "said"),
    [
        ({"scope": "part"}, "Fill in at least one line below."),
        ({"scope": "whole", "line-0-amount": "5"}, "choose “Only a part”"),
        ({"scope": "part", "line-0-quantity": "2"}, "1 were billed"),
        ({"scope": "part", "line-0-amount": "500"}, "£100.02 is left of it"),
        (
            {"scope": "part", "line-0-amount": "5", "line-0-new_price": "90"},
            "Fill in one box of a line",
        ),
        (
            {"scope": "part", "line-0-new_price": "120"},
            "not lower than what was billed",
        ),
        ({"scope": "part", "line-0-amount": "5", "because": ""}, "Answer “Why?”."),
    ],
)
def test_what_cannot_be_is_said_and_nothing_is_lost(
    client: Browser, posted: dict[str, str], said: str
) -> None:
    invoice = make_invoice()
    client.force_login(invoice.job.owner)
    address = reverse("invoicing:invoice_credit", args=[invoice.pk])

    answer = client.post(address, {"because": "Too dear"} | posted)

    assert answer.status_code == 422
    page = answer.content.decode()
    assert said in page
    for name, typed in posted.items():
        if name.startswith("line"):
            assert f'value="{typed}"' in page
    assert not invoice.credit_notes.exists()


def test_a_price_is_put_right_on_the_page(client: Browser) -> None:
    lines = (make_line(3_000, quantity_thousandths=2000), make_line(4_002))
    invoice = make_invoice(make_order(lines=lines))
    client.force_login(invoice.job.owner)
    address = reverse("invoicing:invoice_credit", args=[invoice.pk])

    client.post(
        address,
        {"scope": "part", "because": "As agreed by phone", "line-0-new_price": "27.50"},
    )

    # 2 x 2.50 with 20 % in it: of 95.02 that stay 15.84 (15.837) is tax, of 16.67.
    note = invoice.credit_notes.get()
    assert (note.gross_minor, note.tax_minor) == (500, 83)
    assert note.snapshot["note"] == "As agreed by phone"
