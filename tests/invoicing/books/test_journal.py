"""The journal, proven by another bookkeeper: the CSV is loaded into a fresh SQLite."""

import csv
import io
import sqlite3
from dataclasses import replace
from datetime import date

import pytest

from invoicing.books.accounts import COSTS, FIRST_CODES, Account
from invoicing.books.bases import ACCRUAL, Bases
from invoicing.books.exports import journal_csv
from invoicing.books.facts import Facts, ShareMove
from invoicing.books.figures import figures_of
from invoicing.books.journal import balances, entries
from invoicing.books.postings import Entry, Posting
from invoicing.owed.ageing import ages
from invoicing.periods.calendar import Span
from invoicing.purchases.models import PurchaseKind
from tests.invoicing.books.facts_of import (
    AUGUST,
    CREDIT,
    FACTS,
    INVOICE,
    JULY,
    NOVEMBER,
    PART,
    PRINTS,
    QUARTER,
    rate_sum,
)

DEPOSIT = replace(
    INVOICE, number="2026-0001", rows=(rate_sum(2000, 4_168, 834),), is_ahead=True
)
BALANCE = replace(
    INVOICE,
    pk=3,
    number="2026-0002",
    tax_point_on=AUGUST,
    rows=(rate_sum(2000, 4_167, 833),),
    deducted=(rate_sum(2000, 4_168, 834),),
)


def loaded(content: bytes) -> sqlite3.Connection:
    """Put a journal into an empty table of its own, in hundredths."""
    ledger = sqlite3.connect(":memory:")
    ledger.execute(
        "CREATE TABLE journal (entry_id, account, debit INTEGER, credit INTEGER)"
    )
    text = io.StringIO(content.decode("utf-8-sig"), newline="")
    ledger.executemany(
        "INSERT INTO journal VALUES (?, ?, ?, ?)",
        (
            (
                row["entry_id"],
                row["account"],
                int(row["debit"].replace(".", "")),
                int(row["credit"].replace(".", "")),
            )
            for row in csv.DictReader(text)
        ),
    )
    return ledger


def journal_of(facts: Facts) -> sqlite3.Connection:
    content = journal_csv(entries(facts), currency="GBP", codes=FIRST_CODES)
    return loaded(content)


def held(ledger: sqlite3.Connection, account: Account) -> int:
    (sum_,) = ledger.execute(
        "SELECT TOTAL(debit) - TOTAL(credit) FROM journal WHERE account = ?",
        [FIRST_CODES[account]],
    ).fetchone()
    return int(sum_)


def test_every_entry_of_the_file_sums_to_zero() -> None:
    ledger = journal_of(FACTS)

    off = ledger.execute(
        "SELECT entry_id FROM journal GROUP BY entry_id "
        "HAVING SUM(debit) <> SUM(credit)"
    ).fetchall()

    assert off == []
    assert ledger.execute(
        "SELECT COUNT(DISTINCT entry_id) FROM journal"
    ).fetchone() == (6,)


def test_a_fault_of_one_cent_is_caught() -> None:
    content = journal_csv(entries(FACTS), currency="GBP", codes=FIRST_CODES)
    ledger = loaded(content.replace(b"57.60", b"57.61"))

    off = ledger.execute(
        "SELECT entry_id FROM journal GROUP BY entry_id "
        "HAVING SUM(debit) <> SUM(credit)"
    ).fetchall()

    assert off == [("I1",)]
    with pytest.raises(ValueError, match="off by 1"):
        Entry(
            key="X",
            on=JULY,
            document_type="invoice",
            document_number="X",
            party="",
            postings=(Posting(account=Account.BANK, minor=1),),
        )


def test_accounts_hold_what_is_owed_and_what_was_sold() -> None:
    ledger = journal_of(FACTS)

    # 433.49 invoiced, 120.00 credited, 313.49 of 320.00 set against it.
    assert held(ledger, Account.RECEIVABLE) == 0
    assert held(ledger, Account.ON_ACCOUNT) == -651
    assert held(ledger, Account.BANK) == 30_000 - 12_000
    assert held(ledger, Account.CASH) == 2_000
    assert held(ledger, Account.SALES) == -(18_800 + 7_990)
    assert held(ledger, Account.OUTPUT_TAX) == -4_559
    assert held(ledger, Account.INPUT_TAX) == 1_500
    assert held(ledger, Account.MATERIALS) == 7_500
    assert held(ledger, Account.OWNER) == 3_000
    assert held(ledger, Account.PAYABLE) == 0


def test_a_deposit_is_owed_as_work_until_the_invoice_that_takes_it_off() -> None:
    # 100.02 with 20% in it: deposit 50.02 (41.68 + 8.34), balance 50.00 (41.67 + 8.33).
    waiting = journal_of(Facts(currency="GBP", papers=(DEPOSIT,)))
    assert held(waiting, Account.DEPOSITS) == -4_168
    assert held(waiting, Account.SALES) == 0

    done = journal_of(Facts(currency="GBP", papers=(DEPOSIT, BALANCE)))
    assert held(done, Account.DEPOSITS) == 0
    assert held(done, Account.SALES) == -8_335
    assert held(done, Account.OUTPUT_TAX) == -1_667
    assert held(done, Account.RECEIVABLE) == 10_002


def test_a_credited_deposit_leaves_nothing_behind() -> None:
    credit = replace(CREDIT, rows=DEPOSIT.rows)

    made = balances(entries(Facts(currency="GBP", papers=(DEPOSIT, credit))))

    assert set(made.values()) == {0}


def test_a_credited_balance_opens_the_deposit_again() -> None:
    credit = replace(
        CREDIT, rows=BALANCE.rows, deducted=BALANCE.deducted, corrects="2026-0002"
    )
    facts = Facts(currency="GBP", papers=(DEPOSIT, BALANCE, credit))

    made = balances(entries(facts))

    assert made[Account.DEPOSITS] == -4_168
    assert made[Account.SALES] == 0


def test_a_payment_taken_back_is_posted_twice() -> None:
    facts = Facts(currency="GBP", payments=(replace(PART, reversed_on=NOVEMBER),))

    made = entries(facts)

    assert [entry.key for entry in made] == ["P1", "R1"]
    assert set(balances(made).values()) == {0}


def test_the_tax_account_moves_by_what_the_tax_summary_says() -> None:
    span = Span(QUARTER["first"], QUARTER["last"])

    figures = figures_of(FACTS, span, bases=Bases.always(ACCRUAL))

    moved = balances(figures.entries)
    assert -moved[Account.OUTPUT_TAX] == figures.tax.output_minor
    assert moved[Account.INPUT_TAX] == figures.tax.input_minor


def test_money_of_a_period_is_counted_on_the_day_it_moved() -> None:
    later = Span(date(2026, 10, 1), date(2026, 12, 31))

    figures = figures_of(FACTS, later, bases=Bases.always(ACCRUAL))

    assert figures.money_in_minor == 32_000
    assert figures.costs == ((Account.MATERIALS, 7_500),)
    assert figures.left_minor == 24_500


def test_vouchers_and_money_on_account_are_owed_until_an_invoice_takes_them() -> None:
    # 433.49 invoiced. 150.00 of vouchers sold, 60.00 redeemed. 50.00 on account, of
    # which 40.00 is set on the invoice and 15.00 taken off again; then it goes back.
    sale = replace(PART, pk=11, amount_minor=15_000, shares=(), voucher="Voucher 1")
    spent = replace(
        PART,
        pk=12,
        method="VOUCHER",
        amount_minor=6_000,
        shares=((INVOICE.number, 6_000),),
        voucher="Voucher 1",
    )
    moves = (
        ShareMove(pk=1, on=NOVEMBER, number=INVOICE.number, minor=4_000),
        ShareMove(pk=2, on=NOVEMBER, number=INVOICE.number, minor=-1_500),
    )
    loose = replace(PART, pk=13, amount_minor=5_000, shares=(), moves=moves)
    facts = Facts(currency="GBP", papers=(INVOICE,), payments=(sale, spent, loose))

    ledger = journal_of(facts)
    assert held(ledger, Account.VOUCHERS) == -9_000
    assert held(ledger, Account.ON_ACCOUNT) == -2_500
    assert held(ledger, Account.RECEIVABLE) == 43_349 - 6_000 - 2_500
    assert held(ledger, Account.BANK) == 20_000
    (owed,) = ages(facts, NOVEMBER)
    assert (owed.owed_minor, owed.apart_minor) == (34_849, 2_500)

    undone = replace(loose, reversed_on=NOVEMBER)
    ledger = journal_of(replace(facts, payments=(sale, spent, undone)))
    assert held(ledger, Account.ON_ACCOUNT) == 0
    assert held(ledger, Account.RECEIVABLE) == 43_349 - 6_000
    assert held(ledger, Account.BANK) == 15_000


def test_a_purchase_paid_at_once_owes_nobody() -> None:
    now = replace(PRINTS, paid_on=PRINTS.bought_on, paid_from="OWN")

    (entry,) = entries(Facts(currency="GBP", purchases=(now,)))

    made = balances([entry])
    assert Account.PAYABLE not in made
    assert made[Account.OWNER] == 3_000 - 12_000


def test_every_kind_of_purchase_has_an_account_and_every_account_a_code() -> None:
    assert {kind.value for kind in PurchaseKind} == {one.value for one in COSTS}
    assert set(FIRST_CODES) == {one.value for one in Account}
    assert len(set(FIRST_CODES.values())) == len(FIRST_CODES)
