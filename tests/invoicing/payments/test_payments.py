from datetime import timedelta

import pytest
from django.test import Client as Browser

from invoicing.invoices.models import Invoice
from invoicing.invoices.operations import draft_deposit_invoice
from invoicing.payments.models import Payment
from invoicing.payments.operations import (
    PaymentError,
    balance_of,
    receive_deposit,
    record_payment,
    reverse_payment,
)
from jobs.bookings.operations import confirm_booking
from jobs.bookings.states import BookingStatus
from jobs.jobs.operations import mark_booked, mark_delivered, mark_shot
from jobs.jobs.states import JobStage
from tests.make import NOON, make_booking, make_item, make_job, make_person
from tests.make_invoicing import make_invoice, make_order, make_received

pytestmark = pytest.mark.django_db


def test_a_part_payment_leaves_the_rest_open() -> None:
    invoice, by = make_invoice(), make_person()

    record_payment(
        money=make_received(4_000), shares={invoice.pk: 4_000}, by=by, at=NOON
    )

    assert balance_of(invoice) == 6_002


def test_more_than_what_is_owed_is_refused() -> None:
    invoice, by = make_invoice(), make_person()

    with pytest.raises(PaymentError, match="less than that still to be paid"):
        record_payment(
            money=make_received(20_000), shares={invoice.pk: 20_000}, by=by, at=NOON
        )


def test_a_form_sent_twice_counts_once() -> None:
    invoice, by, money = make_invoice(), make_person(), make_received(4_000)

    for _ in range(2):
        record_payment(money=money, shares={invoice.pk: 4_000}, by=by, at=NOON)

    assert Payment.objects.count() == 1
    assert balance_of(invoice) == 6_002


def test_the_deposits_receipt_issues_its_invoice_and_confirms_the_session() -> None:
    job, by = make_job(), make_person()
    booking = make_booking(job=job)
    order = make_order(job, deposit_minor=5_000)
    draft = draft_deposit_invoice(order=order, by=by, at=NOON)
    assert draft is not None
    received_on = (NOON - timedelta(days=2)).date()

    receipt = receive_deposit(
        draft_id=draft.pk, money=make_received(5_000, received_on), by=by, at=NOON
    )

    booking.refresh_from_db()
    invoice = Invoice.objects.get()
    assert booking.status == BookingStatus.CONFIRMED
    assert (invoice.tax_point_on, balance_of(invoice)) == (received_on, 0)
    assert receipt.problems == []


def test_money_is_kept_and_the_clash_told_when_a_session_is_not_confirmed() -> None:
    job, by, tripod = make_job(), make_person(), make_item()
    mine, rival = make_booking(job=job, items=(tripod,)), make_booking(items=(tripod,))
    confirm_booking(booking_id=rival.pk, by=by, at=NOON)
    order = make_order(job, deposit_minor=5_000)
    draft = draft_deposit_invoice(order=order, by=by, at=NOON)
    assert draft is not None

    receipt = receive_deposit(
        draft_id=draft.pk, money=make_received(5_000), by=by, at=NOON
    )

    mine.refresh_from_db()
    assert mine.status == BookingStatus.PROPOSED
    assert "Tripod is taken" in receipt.problems[0]
    assert Payment.objects.count() == 1


def test_a_delivered_job_with_all_its_money_in_is_closed() -> None:
    job, by = make_job(), make_person()
    order = make_order(job)
    mark_booked(job_id=job.pk, by=by, at=NOON)
    mark_shot(job_id=job.pk, by=by, at=NOON)
    mark_delivered(job_id=job.pk, by=by, at=NOON)
    invoice = make_invoice(order)

    receipt = record_payment(
        money=make_received(10_002), shares={invoice.pk: 10_002}, by=by, at=NOON
    )

    job.refresh_from_db()
    assert job.stage == JobStage.PAID
    assert receipt.closed == [job.number]


@pytest.mark.parametrize(
    ("page", "day"),
    [("payment", "received_on"), ("write-off", "lost_on"), ("voucher", "on")],
)
def test_money_is_not_dated_on_a_day_that_is_still_to_come(
    client: Browser, monkeypatch: pytest.MonkeyPatch, page: str, day: str
) -> None:
    monkeypatch.setattr("django.utils.timezone.now", lambda: NOON)
    invoice = make_invoice()
    client.force_login(invoice.job.owner)
    typed = {"amount": "100.02", "method": "TRANSFER", "because": "x", "form_key": "k"}

    answer = client.post(
        f"/money/invoices/{invoice.pk}/{page}/", typed | {day: "2026-06-22"}
    )

    assert answer.context["form"].errors[day] == ["That day is still to come."]
    assert not Payment.objects.exists()


def test_it_is_said_where_money_stands_that_is_over(
    client: Browser, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("django.utils.timezone.now", lambda: NOON)
    invoice = make_invoice()
    client.force_login(invoice.job.owner)
    typed = {"amount": "150", "received_on": "2026-06-21", "method": "CASH"}

    answer = client.post(
        f"/money/invoices/{invoice.pk}/payment/", typed | {"form_key": "k"}, follow=True
    )

    page = answer.content.decode()
    assert "£49.98 is over, and stands on Meyer Bakery’s account." in page
    assert "of £150.00" in page


def test_a_payment_taken_back_leaves_the_invoice_open_again() -> None:
    invoice, by = make_invoice(), make_person()
    receipt = record_payment(
        money=make_received(10_002), shares={invoice.pk: 10_002}, by=by, at=NOON
    )

    reverse_payment(
        payment_id=receipt.payment.pk, because="Another client's", by=by, at=NOON
    )

    assert balance_of(invoice) == 10_002
