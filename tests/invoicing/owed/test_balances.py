"""The balances that the database keeps say of every day what the books say."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, date, datetime, time, timedelta
from random import Random
from typing import Any

import pytest
from django.db.models import Sum

from invoicing.books.queries import read_facts
from invoicing.invoices.balances import InvoiceBalance
from invoicing.invoices.late import bucket_of
from invoicing.invoices.models import Invoice, TaxRow
from invoicing.invoices.queries import glance
from invoicing.invoices.states import Purpose, Series
from invoicing.owed.aged import ages_on
from invoicing.owed.ageing import ages
from invoicing.payments.balances import PaymentBalance
from invoicing.payments.models import Allocation, Method, Payment, PaymentReversal
from jobs.clients.models import Client
from studio.people.models import Person
from tests.make import NOON, make_client, make_person, make_profile
from tests.make_invoicing import TODAY, make_invoice
from tests.world import faults

pytestmark = pytest.mark.django_db

DAYS = 120
WRONG = "is not what its rows add up to."
FIRST = TODAY - timedelta(days=DAYS)


class Studio:
    """Writes rows as money moves, on any day, in any order."""

    def __init__(self, seed: int) -> None:
        make_profile()
        self.chance = Random(seed)  # noqa: S311 - no secret
        self.first = make_invoice()
        self.owner: Person = make_person()
        self.clients = [make_client(f"Client {n}") for n in range(5)]
        self.number = 0
        self.papers: list[Invoice] = []
        self.payments: list[Payment] = []

    def day(self) -> date:
        return FIRST + timedelta(days=self.chance.randrange(DAYS))

    def paper(self, corrects: Invoice | None = None) -> Invoice:
        self.number += 1
        paper = Invoice.objects.get(pk=self.first.pk)
        paper.pk, paper.draft, paper.number = None, None, f"X-{self.number}"
        paper.year, paper.place = 2020, self.number
        paper.chain_sequence = 1_000 + self.number
        paper.client = self.chance.choice(self.clients)
        paper.tax_point_on = self.day()
        paper.due_on = paper.tax_point_on + timedelta(days=14)
        paper.currency = self.chance.choice(["GBP", "GBP", "EUR"])
        paper.net_minor = self.chance.choice([10_000, 50_000, 3])
        if corrects:
            paper.corrects, paper.client = corrects, corrects.client
            paper.currency = corrects.currency
            paper.series, paper.purpose = Series.CREDIT_NOTE, Purpose.CREDIT
            paper.net_minor = self.chance.choice([corrects.net_minor, 1])
        paper.tax_minor, paper.gross_minor = 0, paper.net_minor
        paper.save(force_insert=True)
        TaxRow.objects.create(
            invoice=paper,
            category="E",
            rate_basis_points=0,
            taxable_minor=paper.net_minor,
            tax_minor=0,
        )
        return paper

    def pay(self, paper: Invoice, minor: int, share: int) -> Payment:
        self.number += 1
        payment = Payment.objects.create(
            client=paper.client,
            received_on=self.day(),
            amount_minor=minor,
            currency=paper.currency,
            method=Method.TRANSFER,
            recorded_at=NOON,
            recorded_by=self.owner,
            form_key=str(self.number),
        )
        if share:
            Allocation.objects.create(
                payment=payment, invoice=paper, amount_minor=share
            )
        return payment

    def move(self, payment: Payment, paper: Invoice, minor: int) -> None:
        Allocation.objects.create(
            payment=payment,
            invoice=paper,
            amount_minor=minor,
            moved_on=payment.received_on + timedelta(days=self.chance.randrange(30)),
            because="" if minor > 0 else "Meant for another",
        )

    def take_back(self, payment: Payment) -> None:
        on = payment.received_on + timedelta(days=self.chance.randrange(30))
        clock = self.chance.choice([time(0, 1), time(12), time(23, 59)])
        PaymentReversal.objects.create(
            payment=payment,
            because="Another client's",
            reversed_at=datetime.combine(on, clock, tzinfo=UTC),
            reversed_by=self.owner,
        )

    def live(self) -> None:
        """Let papers be settled, in part, too much, moved, credited and taken back."""
        for _ in range(24):
            paper = self.paper()
            what = self.chance.randrange(8)
            if what < 3:
                self.pay(paper, paper.gross_minor, paper.gross_minor)
            elif what == 3:
                self.pay(paper, paper.gross_minor + 500, paper.gross_minor)
            elif what == 4:
                payment = self.pay(paper, 2, 2)
                self.move(payment, paper, -2)
                self.move(payment, self.paper_like(paper), 1)
            elif what == 5:
                self.take_back(self.pay(paper, 900, 2))
            elif what == 6:
                self.pay(paper, paper.gross_minor, paper.gross_minor)
                self.paper(corrects=paper)
                self.pay(paper, -2, -2)
        merged, kept = self.clients[:2]
        Client.objects.filter(pk=merged.pk).update(merged_into=kept)

    def paper_like(self, other: Invoice) -> Invoice:
        paper = self.paper()
        while paper.currency != other.currency:
            paper = self.paper()
        return paper


def _balance(paper: Any) -> int:
    return int(paper.balance_minor)


def days() -> Iterator[date]:
    for back in range(-35, DAYS + 2, 7):
        yield TODAY - timedelta(days=back)


@pytest.mark.parametrize("seed", [1, 2])
def test_on_any_day_they_say_what_papers_and_payments_add_up_to(seed: int) -> None:
    Studio(seed).live()

    for currency in ("GBP", "EUR"):
        facts = read_facts(currency)
        for on in days():
            assert ages_on(currency, on) == ages(facts, on), (currency, on)
    assert "balances" not in faults()
    settled = Invoice.objects.invoices().filter(balance__open_minor__isnull=True)
    assert [paper for paper in settled.with_balance() if _balance(paper)] == []
    assert settled.count() > 5


def test_the_glance_adds_up_what_is_open_by_age() -> None:
    studio = Studio(4)
    studio.live()

    seen = glance(on=TODAY, currency="GBP")

    unsettled: Any = Invoice.objects.unsettled().filter(currency="GBP")
    late = unsettled.filter(due_on__lt=TODAY)
    soon = unsettled.filter(due_on__range=(TODAY, TODAY + timedelta(days=7)))
    for sum_, count, rows in (
        (seen.owed, seen.owed_count, unsettled),
        (seen.late, seen.late_count, late),
        (seen.soon, seen.soon_count, soon),
    ):
        total = rows.aggregate(total=Sum("balance_minor"))["total"] or 0
        assert (sum_.minor, count) == (total, rows.count())
    buckets = [0] * 5
    for one in unsettled:
        buckets[bucket_of((TODAY - one.due_on).days)] += one.balance_minor
    assert [money.minor for _, money in seen.ageing] == buckets
    euros: Any = Invoice.objects.unsettled().filter(currency="EUR")
    (elsewhere,) = seen.elsewhere
    assert elsewhere.currency == "EUR"
    assert elsewhere.minor == sum(map(_balance, euros)) > 0
    oldest = min(one.due_on for one in late)
    assert seen.oldest_days == (TODAY - oldest).days


def test_a_balance_that_another_hand_changed_is_named() -> None:
    invoice = make_invoice()
    studio = Studio(5)
    payment = studio.pay(invoice, 500, 400)
    InvoiceBalance.objects.filter(pk=invoice.pk).update(open_minor=1)
    PaymentBalance.objects.filter(pk=payment.pk).update(loose_minor=None)
    late = studio.paper()
    studio.move(payment, late, 50)
    InvoiceBalance.objects.filter(pk=late.pk).update(last_on=FIRST)
    InvoiceBalance.objects.filter(pk=studio.first.pk).delete()

    assert faults()["balances"] == (
        f"What is kept as open on {invoice.number} {WRONG}",
        f"What is kept as open on {studio.first.number} {WRONG}",
        f"What is kept as loose of payment {payment.pk} {WRONG}",
        f"Something moved {late.number} later than its balance says.",
    )
