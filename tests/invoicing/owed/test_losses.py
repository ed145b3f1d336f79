"""Debts that are written off: out of what is owed, and nowhere money."""

from __future__ import annotations

import csv
import io
from datetime import date, timedelta

import pytest
from django.test import Client as Browser

from invoicing.books.accounts import Account
from invoicing.books.bases import ACCRUAL, RECEIPT
from invoicing.books.journal import balances, entries
from invoicing.books.queries import read_facts
from invoicing.books.tax_summary import tax_summary
from invoicing.invoices.models import Invoice
from invoicing.owed.ageing import ages
from invoicing.owed.losses import Loss, write_off_debt
from invoicing.payments.models import Payment
from invoicing.payments.operations import (
    PaymentError,
    balance_of,
    record_payment,
    reverse_payment,
)
from invoicing.payments.receipts import keep_receipt
from invoicing.years.figures import year_figures, year_of
from jobs.jobs.models import Job
from jobs.jobs.states import JobStage
from studio.people.models import Person
from tests.make import NOON, make_person
from tests.make_invoicing import TODAY, make_invoice, make_received

pytestmark = pytest.mark.django_db
LAST = date(2099, 12, 31)
LATER = TODAY + timedelta(days=60)


@pytest.fixture
def edda() -> Person:
    return make_person("Edda", hats="bookkeeper")


@pytest.fixture
def invoice(edda: Person) -> Invoice:
    """An invoice over 100.02, of which 60.00 came in."""
    made = make_invoice()
    record_payment(
        money=make_received(6_000), shares={made.pk: 6_000}, by=edda, at=NOON
    )
    return made


def given_up(invoice: Invoice, by: Person, minor: int = 4_002) -> Payment:
    loss = Loss(
        amount_minor=minor, lost_on=LATER, because="Wound up", form_key=f"k{minor}"
    )
    return write_off_debt(invoice_id=invoice.pk, loss=loss, by=by, at=NOON)


def owed(on: date) -> int:
    return sum(one.owed_minor for one in ages(read_facts("GBP"), on))


def test_it_is_called_written_off_and_not_paid(
    invoice: Invoice, edda: Person, client: Browser
) -> None:
    given_up(invoice, edda)
    client.force_login(edda)

    page = client.get("/money/?show=all").content.decode()
    sheet = client.get("/money/lists/papers.csv?show=all").content.decode("utf-8-sig")

    assert "Rest written off" in page
    paper = client.get(invoice.get_absolute_url()).content.decode()
    assert "Rest written off" in paper
    (row,) = csv.DictReader(io.StringIO(sheet))
    assert (row["Total"], row["Paid"], row["Balance"]) == ("100.02", "60.00", "0.00")
    assert row["State"] == "Rest written off"
    assert "Written off" in client.get("/money/payments/?show=all").content.decode()


def test_what_is_written_off_is_owed_no_more_and_stands_among_losses(
    invoice: Invoice, edda: Person
) -> None:
    given_up(invoice, edda)

    assert balance_of(invoice) == 0
    assert (owed(LATER - timedelta(days=1)), owed(LATER)) == (4_002, 0)
    held = balances(entries(read_facts("GBP")))
    # By hand: 100.02 less 60.00 that came is 40.02 lost; nothing more is receivable.
    assert (held[Account.LOSSES], held[Account.RECEIVABLE]) == (4_002, 0)
    assert held[Account.BANK] == 6_000
    assert not Payment.objects.money().filter(method="LOSS").exists()


def test_tax_stays_by_tax_point_and_never_arises_by_receipt(
    invoice: Invoice, edda: Person
) -> None:
    def tax(basis: str) -> int:
        facts = read_facts("GBP")
        return tax_summary(facts, basis=basis, first=date.min, last=LAST).output_minor

    before = tax(ACCRUAL), tax(RECEIPT)

    given_up(invoice, edda)

    # 100.02 at 20 % holds 16.67; 60.00 of it bring 16.67 x 60.00 / 100.02 = 10.00.
    assert (tax(ACCRUAL), tax(RECEIPT)) == before == (1_667, 1_000)


def test_a_loss_is_no_income_and_has_no_receipt(invoice: Invoice, edda: Person) -> None:
    lost = given_up(invoice, edda)

    year = year_figures(read_facts("GBP"), year_of(TODAY, month=1, day=1))
    assert sum(figure.paid_minor for figure in year.income) == 6_000
    with pytest.raises(PaymentError, match="No money came"):
        keep_receipt(payment_id=lost.pk, at=NOON)


def test_it_is_taken_back_when_the_client_pays_after_all(
    invoice: Invoice, edda: Person
) -> None:
    lost = given_up(invoice, edda)

    reverse_payment(payment_id=lost.pk, because="They paid", by=edda, at=NOON)
    record_payment(
        money=make_received(4_002), shares={invoice.pk: 4_002}, by=edda, at=NOON
    )

    assert balance_of(invoice) == 0
    held = balances(entries(read_facts("GBP")))
    assert (held[Account.LOSSES], held[Account.BANK]) == (0, 10_002)


@pytest.mark.parametrize(
    ("minor", "on", "because", "sentence"),
    [
        (4_003, LATER, "Gone", "has less than that"),
        (0, LATER, "Gone", "Say how much"),
        (4_002, TODAY - timedelta(days=1), "Gone", "issued after that day"),
        (4_002, LATER, " ", "Say why"),
    ],
)
def test_what_is_no_loss_is_refused(
    invoice: Invoice, edda: Person, minor: int, on: date, because: str, sentence: str
) -> None:
    loss = Loss(amount_minor=minor, lost_on=on, because=because, form_key="k")

    with pytest.raises(PaymentError, match=sentence):
        write_off_debt(invoice_id=invoice.pk, loss=loss, by=edda, at=NOON)

    assert balance_of(invoice) == 4_002


def test_a_form_sent_twice_counts_once_and_the_job_is_closed_with_the_reason(
    invoice: Invoice, edda: Person
) -> None:
    Job.objects.filter(pk=invoice.job_id).update(stage=JobStage.DELIVERED)

    assert given_up(invoice, edda) == given_up(invoice, edda)

    job = Job.objects.get(pk=invoice.job_id)
    assert (job.stage, job.closed_because) == (
        JobStage.PAID,
        f"{invoice.number} written off: Wound up",
    )


def test_it_is_written_off_on_its_page(invoice: Invoice, edda: Person) -> None:
    browser = Browser()
    browser.force_login(edda)
    page = f"/money/invoices/{invoice.pk}/write-off/"

    asked = browser.get(page).content.decode()
    said = {"amount": "50", "lost_on": f"{TODAY:%Y-%m-%d}", "because": "x"}
    refused = browser.post(page, said | {"form_key": "a"})
    done = browser.post(page, said | {"amount": "40.02", "form_key": "b"}, follow=True)
    payment = Payment.objects.get(method="LOSS")
    seen = browser.get(payment.get_absolute_url()).content.decode()

    assert 'value="40.02"' in asked
    assert "has less than that still to be paid" in refused.content.decode()
    assert "It is written off." in done.content.decode()
    assert f"Loss {payment.pk}" in seen
    assert "Send receipt" not in seen
    assert browser.get(page).status_code == 404
