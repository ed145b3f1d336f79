"""Money on account: set, taken off, paid back, with its receipt."""

import io
from dataclasses import replace
from datetime import timedelta

import pytest
from django.test import Client as Browser
from pypdf import PdfReader

from invoicing.books.queries import read_facts
from invoicing.invoices.taking_back import credit_invoice
from invoicing.owed.ageing import account, ages
from invoicing.payments.models import Payment, PrintedReceipt
from invoicing.payments.moving import (
    pay_back_credited,
    pay_back_on_account,
    set_on_invoices,
    take_off_invoice,
)
from invoicing.payments.operations import (
    PaymentError,
    balance_of,
    record_payment,
    reverse_payment,
)
from invoicing.payments.queries import seen_payment
from invoicing.payments.receipts import keep_receipt
from invoicing.periods.calendar import Span
from invoicing.periods.operations import ClosedPeriodError, keep_closed
from studio.mail.models import Message
from tests.make import NOON, make_person
from tests.make_invoicing import TODAY, make_invoice, make_received

pytestmark = pytest.mark.django_db
LATER = TODAY + timedelta(days=3)


@pytest.fixture
def browser(client: Browser) -> Browser:
    client.force_login(make_person())
    return client


def test_it_is_set_later_taken_off_and_the_books_know_each_day() -> None:
    invoice, by = make_invoice(), make_person()
    payment = record_payment(
        money=make_received(4_000), shares={}, client=invoice.client, by=by, at=NOON
    ).payment

    set_on_invoices(
        payment_id=payment.pk, shares={invoice.pk: 3_000}, on=LATER, by=by, at=NOON
    )

    # 100.02 invoiced: 40.00 on account, then 30.00 of it set on the invoice.
    facts = read_facts("GBP")
    (before,), (after,) = ages(facts, TODAY), ages(facts, LATER)
    assert (before.owed_minor, before.apart_minor) == (10_002, 4_000)
    assert (after.owed_minor, after.apart_minor) == (7_002, 1_000)
    statement = account(facts, invoice.client.kept_id, first=TODAY, last=LATER)
    assert statement.closing_minor == 6_002 == after.balance_minor

    take_off_invoice(
        payment_id=payment.pk,
        invoice_id=invoice.pk,
        on=LATER,
        because="Meant for the album",
        by=by,
        at=NOON,
    )

    assert balance_of(invoice) == 10_002
    assert seen_payment(payment.pk).loose.minor == 4_000


def test_nothing_moves_into_a_closed_period_or_before_it_came() -> None:
    invoice, by = make_invoice(), make_person()
    payment = record_payment(
        money=make_received(4_000), shares={}, client=invoice.client, by=by, at=NOON
    ).payment
    shares = {invoice.pk: 4_000}
    early = TODAY - timedelta(days=1)

    with pytest.raises(PaymentError, match="before the money came in"):
        set_on_invoices(payment_id=payment.pk, shares=shares, on=early, by=by, at=NOON)
    span = Span(first=TODAY.replace(day=1), last=LATER)
    keep_closed(span=span, figures={}, by=by, at=NOON)
    with pytest.raises(ClosedPeriodError):
        set_on_invoices(payment_id=payment.pk, shares=shares, on=LATER, by=by, at=NOON)

    assert balance_of(invoice) == 10_002


def test_only_what_is_on_account_goes_back_without_a_credit_note() -> None:
    invoice, by = make_invoice(), make_person()
    payment = record_payment(
        money=make_received(12_002), shares={invoice.pk: 10_002}, by=by, at=NOON
    ).payment

    with pytest.raises(PaymentError, match="only after a credit note"):
        pay_back_on_account(
            payment_id=payment.pk, money=make_received(2_001), by=by, at=NOON
        )
    with pytest.raises(PaymentError, match="only after a credit note"):
        pay_back_credited(invoice_id=invoice.pk, money=make_received(1), by=by, at=NOON)
    out = pay_back_on_account(
        payment_id=payment.pk, money=make_received(2_000), by=by, at=NOON
    )

    assert out.amount_minor == -2_000
    assert seen_payment(payment.pk).loose.minor == 0
    assert ages(read_facts("GBP"), LATER) == []
    with pytest.raises(PaymentError, match="Take that back first"):
        reverse_payment(payment_id=payment.pk, because="Wrong", by=by, at=NOON)


def test_taking_it_off_an_open_invoice_is_no_way_around_the_credit_note() -> None:
    invoice, by = make_invoice(), make_person()
    payment = record_payment(
        money=make_received(5_000), shares={invoice.pk: 5_000}, by=by, at=NOON
    ).payment
    take_off_invoice(
        payment_id=payment.pk,
        invoice_id=invoice.pk,
        on=TODAY,
        because="Let us see",
        by=by,
        at=NOON,
    )

    with pytest.raises(PaymentError, match="credit note first"):
        pay_back_on_account(
            payment_id=payment.pk, money=make_received(5_000), by=by, at=NOON
        )


def test_what_a_credit_note_leaves_over_goes_back_once() -> None:
    invoice, by = make_invoice(), make_person()
    record_payment(
        money=make_received(10_002), shares={invoice.pk: 10_002}, by=by, at=NOON
    )
    credit_invoice(invoice_id=invoice.pk, because="Called off", by=by, at=NOON)
    money = make_received(10_002)

    for _ in range(2):
        pay_back_credited(invoice_id=invoice.pk, money=money, by=by, at=NOON)

    assert balance_of(invoice) == 0
    assert Payment.objects.count() == 2
    assert ages(read_facts("GBP"), LATER) == []
    with pytest.raises(PaymentError, match="Nothing is over"):
        pay_back_credited(invoice_id=invoice.pk, money=make_received(1), by=by, at=NOON)


def test_a_receipt_is_kept_and_another_only_when_there_is_more_to_say() -> None:
    invoice, by = make_invoice(), make_person()
    payment = record_payment(
        money=make_received(4_000), shares={}, client=invoice.client, by=by, at=NOON
    ).payment

    first = keep_receipt(payment_id=payment.pk, at=NOON)
    same = keep_receipt(payment_id=payment.pk, at=NOON + timedelta(days=9))
    set_on_invoices(
        payment_id=payment.pk, shares={invoice.pk: 4_000}, on=TODAY, by=by, at=NOON
    )
    second = keep_receipt(payment_id=payment.pk, at=NOON)

    words = PdfReader(io.BytesIO(bytes(second.content))).pages[0].extract_text()
    assert first == same
    assert PrintedReceipt.objects.count() == 2
    assert f"Payment {payment.pk}" in words
    assert invoice.number in words
    assert "£40.00" in words
    assert "£60.02" in words


def test_the_pages_record_propose_set_and_send(browser: Browser) -> None:
    invoice, money = make_invoice(), replace(make_received(4_000), reference="?")
    sent = {
        "client": invoice.client.pk,
        "amount": "40.00",
        "received_on": TODAY.isoformat(),
        "method": "CASH",
        "reference": money.reference,
        "form_key": money.form_key,
    }

    browser.post("/money/payments/new/", sent)
    payment = Payment.objects.get()
    page = browser.get(payment.get_absolute_url()).content.decode()
    assert 'value="40.00"' in page
    share = {"on": TODAY.isoformat(), f"share_{invoice.pk}": "40.00"}
    browser.post(payment.get_absolute_url(), share)
    letter = {
        "address": "meyer@example.com",
        "subject": "Receipt",
        "words": "Thank you.",
        "form_key": "r-1",
    }
    for _ in range(2):
        browser.post(f"/money/payments/{payment.pk}/receipt/", letter)

    assert balance_of(invoice) == 6_002
    assert Message.objects.filter(subject="Receipt").count() == 1
    assert browser.get(invoice.get_absolute_url()).status_code == 200
