"""Books of some years: more rows than SQLite takes in one condition."""

from copy import copy
from datetime import timedelta

import pytest
from django.test import Client as Browser

from invoicing.books.accounts import Account
from invoicing.books.journal import balances, entries
from invoicing.books.queries import read_facts
from invoicing.invoices.models import Invoice, TaxRow
from invoicing.owed.ageing import ages
from invoicing.payments.models import Allocation, Method, Payment
from studio.people.models import Person
from tests.make import NOON, make_client, make_person, make_profile
from tests.make_invoicing import TODAY, make_invoice

pytestmark = pytest.mark.django_db

MANY = 1_100  # SQLite takes a condition of 1,000 parts at most (its limits, part 5)
UNPAID = 10


def fill(owner: Person) -> None:
    """Copy one invoice many times and pay all but some of them."""
    first = Invoice.objects.get(pk=make_invoice().pk)
    clients = [make_client(f"Client {n}") for n in range(4)]
    papers = [_copy(first, number) for number in range(MANY)]
    for number, paper in enumerate(papers):
        paper.client = clients[number % 4]
    Invoice.objects.bulk_create(papers)
    TaxRow.objects.bulk_create(
        TaxRow(
            invoice=paper,
            category="S",
            rate_basis_points=2_000,
            taxable_minor=paper.net_minor,
            tax_minor=paper.tax_minor,
        )
        for paper in papers
    )
    paid = papers[UNPAID:]
    payments = [_payment(paper, owner) for paper in paid]
    Payment.objects.bulk_create(payments)
    Allocation.objects.bulk_create(
        Allocation(payment=payment, invoice=paper, amount_minor=paper.gross_minor)
        for payment, paper in zip(payments, paid, strict=True)
    )


def _copy(first: Invoice, number: int) -> Invoice:
    paper = copy(first)
    paper.pk, paper.draft, paper.number = None, None, f"X-{number:05}"
    paper.year, paper.place, paper.chain_sequence = 2025, number, 1_000 + number
    paper.due_on = TODAY - timedelta(days=number % 100)
    return paper


def _payment(paper: Invoice, owner: Person) -> Payment:
    return Payment(
        client=paper.client,
        received_on=TODAY,
        amount_minor=paper.gross_minor,
        currency=paper.currency,
        method=Method.TRANSFER,
        recorded_at=NOON,
        recorded_by=owner,
        form_key=paper.number,
    )


def test_years_of_books_are_read_and_shown() -> None:
    make_profile()
    owner = make_person()
    fill(owner)
    browser = Browser()
    browser.force_login(owner)

    facts = read_facts("GBP")
    held = balances(entries(facts))

    each, unpaid = 10_002, UNPAID + 1
    assert (len(facts.papers), len(facts.payments)) == (MANY + 1, MANY - UNPAID)
    assert sum(one.owed_minor for one in ages(facts, TODAY)) == unpaid * each
    assert held[Account.RECEIVABLE] == unpaid * each
    assert held[Account.BANK] == (MANY - UNPAID) * each
    pages = ("", "owed/", "payments/", "lists/payments.csv", "lists/papers.csv")
    for page in (*pages, "books/", "books/2026-04-01/"):
        assert browser.get(f"/money/{page}").status_code == 200, page
