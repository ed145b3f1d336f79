"""Who owes what on a day, proven by the journal and by hand."""

from dataclasses import replace
from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from invoicing.books.accounts import Account
from invoicing.books.facts import Facts, PaperFact, PaymentFact
from invoicing.books.journal import balances, entries, within
from invoicing.invoices.late import bucket_of
from invoicing.owed.ageing import account, ages
from tests.invoicing.books.facts_of import FACTS, INVOICE, rate_sum

START = date(2026, 1, 1)
DUE = replace(INVOICE, due_on=date(2026, 7, 24), client_id=7)


@pytest.mark.parametrize(
    ("days", "bucket"),
    [(0, 0), (1, 1), (30, 1), (31, 2), (60, 2), (61, 3), (90, 3), (91, 4), (999, 4)],
)
def test_a_bucket_holds_its_last_day(days: int, bucket: int) -> None:
    assert bucket_of(days) == bucket


@pytest.mark.parametrize(
    ("on", "bucket", "owed"),
    [
        (date(2026, 7, 10), 0, 43_349),
        (date(2026, 7, 24), 0, 43_349),  # due that day
        (date(2026, 7, 25), 1, 43_349),
        (date(2026, 8, 3), 1, 31_349),  # 120.00 credited
        (date(2026, 9, 30), 3, 31_349),  # 68 days
        (date(2026, 10, 12), 3, 1_349),  # 300.00 came in, 80 days
        (date(2026, 10, 31), 4, 1_349),
    ],
)
def test_an_invoice_grows_older_and_smaller(on: date, bucket: int, owed: int) -> None:
    (client,) = ages(replace(FACTS, papers=(DUE, FACTS.papers[1])), on)

    assert client.buckets[bucket] == owed
    assert client.owed_minor == owed


def test_before_it_is_issued_nothing_is_owed_and_what_is_over_stands_apart() -> None:
    assert ages(FACTS, date(2026, 7, 9)) == []

    (left,) = ages(FACTS, date(2026, 12, 31))
    assert (left.owed_minor, left.apart_minor) == (0, 651)


def test_money_that_came_before_its_invoice_stands_in_the_clients_favour() -> None:
    # 300.00 came on 30 June for an invoice with its tax point on 10 July.
    early = PaymentFact(
        pk=1,
        party="Brass band",
        on=date(2026, 6, 30),
        amount_minor=30_000,
        method="TRANSFER",
        shares=((DUE.number, 30_000),),
        client_id=7,
    )
    facts = Facts(currency="GBP", papers=(DUE,), payments=(early,))

    (then,) = ages(facts, date(2026, 6, 30))
    (later,) = ages(facts, date(2026, 7, 10))

    assert (then.owed_minor, then.apart_minor) == (0, 30_000)
    assert account(facts, 7, first=START, last=early.on).closing_minor == -30_000
    assert balances(within(entries(facts), START, early.on)) == {
        Account.BANK: 30_000,
        Account.RECEIVABLE: -30_000,
    }
    assert (later.owed_minor, later.apart_minor) == (13_349, 0)


def test_an_account_runs_from_its_opening_to_its_closing_balance() -> None:
    papers = tuple(replace(paper, client_id=7) for paper in FACTS.papers)
    payments = tuple(replace(one, client_id=7) for one in FACTS.payments)
    facts = replace(FACTS, papers=papers, payments=payments)

    found = account(facts, 7, first=date(2026, 8, 1), last=date(2026, 10, 31))

    assert found.opening_minor == 43_349
    assert [(line.what, line.minor, line.balance_minor) for line in found.lines] == [
        ("Credit note CN-2026-001", -12_000, 31_349),
        ("Payment", -30_000, 1_349),
    ]
    (aged,) = ages(facts, date(2026, 10, 31))
    assert found.closing_minor == aged.balance_minor


@st.composite
def books(draw: st.DrawFn) -> Facts:
    papers: list[PaperFact] = []
    payments: list[PaymentFact] = []
    for pk in range(1, draw(st.integers(1, 4)) + 1):
        on = START + timedelta(days=draw(st.integers(0, 60)))
        papers.append(
            PaperFact(
                pk=pk,
                number=f"N{pk}",
                party="C",
                client_id=pk % 2,
                tax_point_on=on,
                due_on=on + timedelta(days=14),
                rows=(rate_sum(2000, draw(st.integers(1, 5_000)), 200),),
            )
        )
        payments.append(
            PaymentFact(
                pk=pk,
                party="C",
                client_id=pk % 2,
                on=on + timedelta(days=draw(st.integers(0, 60))),
                amount_minor=draw(st.integers(100, 400)),
                method="TRANSFER",
                shares=((f"N{pk}", draw(st.integers(1, 100))),),
                reversed_on=draw(
                    st.sampled_from([None, on + timedelta(days=90)]),
                ),
            )
        )
    return Facts(currency="GBP", papers=tuple(papers), payments=tuple(payments))


@given(facts=books(), days=st.integers(0, 200))
@settings(max_examples=60, deadline=None)
def test_what_is_owed_is_what_the_journal_holds(facts: Facts, days: int) -> None:
    on = START + timedelta(days=days)

    found = ages(facts, on)

    held = balances(within(entries(facts), date.min, on))
    total = held.get(Account.RECEIVABLE, 0) + held.get(Account.ON_ACCOUNT, 0)
    assert sum(client.balance_minor for client in found) == total
    for client in found:
        ended = account(facts, client.client_id, first=START, last=on)
        assert ended.closing_minor == client.balance_minor
