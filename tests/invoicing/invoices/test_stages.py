"""Stages of a long job, invoiced between its deposit and its balance."""

import pytest
from django.test import Client as Browser

from invoicing.books.accounts import Account
from invoicing.books.journal import balances, entries
from invoicing.books.queries import read_facts
from invoicing.invoices.content import Order
from invoicing.invoices.issuing import issue_invoice
from invoicing.invoices.models import Invoice, InvoiceDraft
from invoicing.invoices.operations import (
    DraftError,
    draft_balance_invoice,
    draft_deposit_invoice,
    drop_draft,
)
from invoicing.invoices.printed import printed_invoice
from invoicing.invoices.staging import draft_stage_invoice
from invoicing.invoices.states import Purpose
from invoicing.invoices.taking_back import credit_invoice
from invoicing.quotes.accepting import Yes, accept_quote
from jobs.jobs.models import Job
from tests.make import NOON, make_person
from tests.make_invoicing import make_line, make_order
from tests.make_quotes import sent_quote

pytestmark = pytest.mark.django_db

# 300.00 at 20 % and 100.00 at 5 %, tax in the price: 50.00 and 4.76 of tax.
LINES = (make_line(30_000), make_line(10_000, 500))


def stage(order: Order, minor: int, what: str = "First of three") -> InvoiceDraft:
    by = Job.objects.get(pk=order.job_id).owner
    return draft_stage_invoice(order=order, minor=minor, what=what, by=by, at=NOON)


def issued(draft: InvoiceDraft | None) -> Invoice:
    assert draft is not None
    return issue_invoice(draft_id=draft.pk, by=None, at=NOON)


def rest(order: Order) -> InvoiceDraft:
    by = Job.objects.get(pk=order.job_id).owner
    return draft_balance_invoice(order=order, by=by, at=NOON)


def rates(invoice: Invoice) -> list[tuple[int, int, int]]:
    rows = invoice.tax_rows.order_by("-rate_basis_points")
    return list(rows.values_list("rate_basis_points", "taxable_minor", "tax_minor"))


def test_deposit_stages_and_balance_add_up_at_each_rate() -> None:
    """Worked by hand: each part by gross share 3 : 1, tax inside it rounded once.

    The deposit of 80.00 is 60.00 and 20.00, a stage of 100.00 is 75.00 and 25.00, and
    what is left of tax is subtracted: 50.00 - 10.00 - 12.50, 4.76 - 0.95 - 1.19.
    """
    order = make_order(lines=LINES, deposit_minor=8_000)

    deposit = issued(draft_deposit_invoice(order=order, by=None, at=NOON))
    first = issued(stage(order, 10_000))
    balance = issued(rest(order))

    assert rates(deposit) == [(2000, 5_000, 1_000), (500, 1_905, 95)]
    assert rates(first) == [(2000, 6_250, 1_250), (500, 2_381, 119)]
    assert rates(balance) == [(2000, 13_750, 2_750), (500, 5_238, 262)]
    assert balance.purpose == Purpose.BALANCE
    assert sum(one.gross_minor for one in (deposit, first, balance)) == 40_000


def test_the_papers_say_what_each_is() -> None:
    order = make_order(lines=LINES)
    first = issued(stage(order, 10_000, "  First of three sessions "))
    second = issued(stage(order, 5_000, "Second of three sessions"))
    balance = issued(rest(order))

    paper = printed_invoice(first.snapshot)
    assert paper.kind == "Stage invoice"
    assert paper.lines[0].title == "First of three sessions"
    sums = dict(printed_invoice(balance.snapshot).sums)
    assert sums[f"Stage, invoice {first.number}"] == "−£100.00"
    assert sums[f"Stage, invoice {second.number}"] == "−£50.00"


def test_a_stage_stands_ahead_of_the_work_in_the_journal_until_the_rest() -> None:
    order = make_order(lines=LINES)
    issued(stage(order, 10_000))

    held = balances(entries(read_facts("GBP")))
    assert held[Account.DEPOSITS] == -8_631  # 62.50 and 23.81
    assert Account.SALES not in held

    issued(rest(order))

    held = balances(entries(read_facts("GBP")))
    assert held[Account.DEPOSITS] == 0
    assert held[Account.SALES] == -34_524  # 250.00 and 95.24
    assert held[Account.OUTPUT_TAX] == -5_476
    assert held[Account.RECEIVABLE] == 40_000


@pytest.mark.parametrize("minor", [40_000, 40_001])
def test_a_stage_is_less_than_what_is_left(minor: int) -> None:
    with pytest.raises(DraftError, match=r"less than the £400\.00"):
        stage(make_order(lines=LINES), minor)


def test_a_stage_that_was_taken_back_is_left_again() -> None:
    order = make_order(lines=LINES)
    first = issued(stage(order, 10_000))
    credit_invoice(invoice_id=first.pk, because="Not held", by=make_person(), at=NOON)

    assert issued(rest(order)).gross_minor == 40_000


def test_nothing_is_drafted_twice() -> None:
    order = make_order(lines=LINES)
    drafted = stage(order, 10_000)
    with pytest.raises(DraftError, match="A stage stands drafted already"):
        stage(order, 5_000)
    with pytest.raises(DraftError, match="A stage stands drafted"):
        rest(order)
    drop_draft(draft_id=drafted.pk, by=make_person(), at=NOON)

    last = rest(order)

    with pytest.raises(DraftError, match="the rest stands drafted"):
        stage(order, 5_000)
    number = issued(last).number
    with pytest.raises(DraftError, match=f"invoiced before, with {number}"):
        stage(order, 5_000)


def test_the_page_drafts_a_stage_or_says_why_not() -> None:
    quote = sent_quote()
    accept_quote(quote_id=quote.pk, yes=Yes(name="Merle Tarn"), at=NOON)
    job = Job.objects.get(pk=quote.job_id)
    browser = Browser()
    browser.force_login(job.owner)
    address = f"/money/jobs/{job.pk}/stage/"

    asked = browser.get(address)
    refused = browser.post(address, {"what": "", "amount": "9999999"})
    kept = browser.post(address, {"what": "First of two", "amount": "50"})
    again = browser.get(address, follow=True)

    assert "is not invoiced yet" in asked.content.decode()
    assert refused.status_code == 422
    assert "Fill in “What it is for”." in refused.content.decode()
    draft = InvoiceDraft.objects.get(purpose=Purpose.STAGE)
    assert kept.headers["Location"] == draft.get_absolute_url()
    assert "A stage stands drafted already" in again.content.decode()
    drop_draft(draft_id=draft.pk, by=job.owner, at=NOON)
    too_much = browser.post(address, {"what": "All of it", "amount": "9999999"})
    assert "A stage is less than" in too_much.content.decode()
