"""From a statement to settled invoices, by the pages."""

from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.db import DatabaseError, transaction
from django.test import Client as Browser

from invoicing.bank.models import BankLine
from invoicing.books.accounts import Account
from invoicing.books.checks import changed_periods
from invoicing.books.journal import balances, entries
from invoicing.books.operations import close_period
from invoicing.books.queries import read_facts
from invoicing.invoices.operations import draft_deposit_invoice
from invoicing.invoices.taking_back import credit_invoice
from invoicing.payments.models import Method, Payment
from invoicing.payments.moving import pay_back_credited
from invoicing.payments.operations import Received, balance_of, record_payment
from invoicing.periods.calendar import Span
from invoicing.purchases.models import Purchase
from jobs.jobs.models import Job
from studio.panels import today_items
from studio.people.models import Person
from tests.invoicing.bank.test_reading import CAMT
from tests.make import NOON, make_job, make_person, make_profile
from tests.make_invoicing import make_invoice, make_order, make_received
from tests.studio.markup import Markup

pytestmark = pytest.mark.django_db
HEAD = "Date,Name,Reference,Amount\n"


@pytest.fixture
def ada(monkeypatch: pytest.MonkeyPatch) -> Person:
    later = NOON + timedelta(days=3)
    monkeypatch.setattr("django.utils.timezone.now", lambda: later)
    make_profile()
    return make_person()


@pytest.fixture
def browser(ada: Person, client: Browser) -> Browser:
    client.force_login(ada)
    return client


def read(browser: Browser, rows: str) -> None:
    sent = SimpleUploadedFile("lines.csv", (HEAD + rows).encode())
    columns = browser.post("/money/bank/read/", {"file": sent})
    assert columns.status_code == 302, columns.content
    page = browser.get(columns["Location"])
    chosen = {
        name: "" if value is None else value
        for name, value in page.context["form"].initial.items()
    }
    kept = browser.post(columns["Location"], chosen | {"keep": "1"})
    assert kept.status_code == 302, kept.content


def line() -> BankLine:
    return BankLine.objects.get()


def step(browser: Browser, which: str, **data: object) -> str:
    answer = browser.post(f"/money/bank/{line().pk}/{which}/", data, follow=True)
    return answer.content.decode()


def test_a_statement_is_read_shown_and_settled(browser: Browser) -> None:
    invoice = make_invoice()
    read(browser, f"22/06/2026,Somebody,{invoice.number},100.02\n")

    page = Markup(browser.get("/money/bank/").content.decode())
    assert f"Names {invoice.number} and pays it whole" in page.words
    browser.post("/money/bank/settle/")

    assert balance_of(invoice) == 0
    assert line().payment == Payment.objects.get()
    assert not BankLine.objects.open().exists()


def test_the_same_statement_twice_is_kept_once_and_equal_lines_stay_two(
    browser: Browser,
) -> None:
    rows = "22/06/2026,Ada,print,5.00\n22/06/2026,Ada,print,5.00\n"

    read(browser, rows)
    read(browser, rows + "23/06/2026,Ada,print,5.00\n")

    assert BankLine.objects.count() == 3


def test_a_camt_statement_needs_no_columns(browser: Browser) -> None:
    make_invoice()
    sent = SimpleUploadedFile("lines.xml", CAMT.encode())

    answer = browser.post("/money/bank/read/", {"file": sent}, follow=True)

    assert "2 new lines." in answer.content.decode()


def test_a_row_that_cannot_be_read_keeps_everything_back(browser: Browser) -> None:
    sent = SimpleUploadedFile(
        "lines.csv", (HEAD + "22/06/2026,A,b,5\nsoon,A,b,5\n").encode()
    )
    columns = browser.post("/money/bank/read/", {"file": sent})
    page = browser.get(columns["Location"])
    chosen = {
        k: "" if v is None else v for k, v in page.context["form"].initial.items()
    }

    answer = browser.post(columns["Location"], chosen | {"keep": "1"})

    assert answer.status_code == 422
    assert "Row 2: “soon” is no day." in answer.content.decode()
    assert not BankLine.objects.exists()


def test_a_file_that_is_no_table_is_refused_beside_its_field(browser: Browser) -> None:
    answer = browser.post(
        "/money/bank/read/", {"file": SimpleUploadedFile("x.csv", b"nothing")}
    )

    assert answer.status_code == 422
    assert "no table" in str(answer.context["form"].errors["file"])


def test_a_deposit_that_comes_in_issues_its_invoice(browser: Browser) -> None:
    order = make_order(deposit_minor=2_500)
    job = Job.objects.get(pk=order.job_id)
    draft = draft_deposit_invoice(order=order, by=job.owner, at=NOON)
    assert draft is not None
    read(browser, f"22/06/2026,Somebody,{job.number},25.00\n")

    browser.post("/money/bank/settle/")

    draft.refresh_from_db()
    assert draft.is_issued
    assert draft.invoice.tax_point_on.isoformat() == "2026-06-22"


def test_invoices_are_chosen_by_hand_the_oldest_first(browser: Browser) -> None:
    invoice = make_invoice()
    read(browser, "22/06/2026,Nobody,x,60.00\n")

    assert "id_papers_error" in step(browser, "settle")
    step(browser, "settle", papers=[f"invoice-{invoice.pk}"])

    assert balance_of(invoice) == 4_002


def test_money_that_went_out_becomes_a_purchase_or_pays_one(
    browser: Browser, ada: Person
) -> None:
    make_invoice()
    read(browser, "22/06/2026,Print rooms,two prints,-12.00\n")
    form = browser.get(line().get_absolute_url()).context["forms"]["spend"]
    assert form.initial["gross"] == Decimal("12.00")
    details = {
        name: form[name].value() or "" for name in form.fields if name != "bought_on"
    } | {"kind": "MATERIALS", "bought_on": "2026-06-20", "paid_from": "CASH"}

    refused = step(browser, "spend", **(details | {"gross": "11.00"}))
    assert "The sum is not what left the account." in refused
    step(browser, "spend", **details)

    bought = Purchase.objects.get()
    assert (bought.supplier, bought.gross_minor) == ("Print rooms", 1_200)
    assert line().purchase == bought
    assert (bought.paid_on, bought.paid_from) == (date(2026, 6, 22), "BANK")

    step(browser, "reopen")
    assert (
        "Same sum as Print rooms"
        in browser.get(line().get_absolute_url()).content.decode()
    )
    step(browser, "link")
    assert line().purchase == bought


def test_a_payout_brings_card_payments_less_its_fee(
    browser: Browser, ada: Person
) -> None:
    invoice = make_invoice()
    taken = Received(
        amount_minor=10_002,
        currency="GBP",
        received_on=NOON.date(),
        method=Method.CARD,
        form_key="card",
    )
    record_payment(money=taken, shares={invoice.pk: 10_002}, by=ada, at=NOON)
    read(browser, "23/06/2026,Card service,payout,98.27\n")

    step(browser, "payout", payments=[Payment.objects.get().pk])

    held = balances(entries(read_facts("GBP")))
    assert held[Account.BANK] == 9_827
    assert held[Account.CARD] == 0
    assert held[Account.BANK_FEES] == 175
    assert not BankLine.objects.open().exists()
    assert "A payout stays" in step(browser, "reopen")


def test_a_payout_without_a_fee_changes_no_closed_period(
    browser: Browser, ada: Person
) -> None:
    invoice = make_invoice()
    taken = replace(make_received(10_002), method=Method.CARD)
    record_payment(money=taken, shares={invoice.pk: 10_002}, by=ada, at=NOON)
    read(browser, "23/06/2026,Card service,payout,100.02\n")
    june = Span(date(2026, 6, 1), date(2026, 6, 30))
    close_period(span=june, by=ada, at=NOON + timedelta(days=20))

    said = step(browser, "payout", payments=[Payment.objects.get().pk])

    assert "The books of that day are closed." in said
    assert BankLine.objects.open().exists()
    assert list(changed_periods()) == []


def test_a_line_is_left_out_with_its_reason_and_opened_again(browser: Browser) -> None:
    read(browser, "22/06/2026,Own account,move,50.00\n")

    step(browser, "leave", because="To savings")
    assert not BankLine.objects.open().exists()
    step(browser, "reopen")

    assert BankLine.objects.open().exists()


def test_a_payment_taken_back_frees_its_invoice(browser: Browser) -> None:
    invoice = make_invoice()
    read(browser, f"22/06/2026,X,{invoice.number},100.02\n")
    browser.post("/money/bank/settle/")

    step(browser, "reopen")
    assert balance_of(invoice) == 10_002
    browser.post("/money/bank/settle/")

    assert balance_of(invoice) == 0
    assert Payment.objects.count() == 2


def test_a_question_stands_on_the_owners_today_until_it_is_answered(
    browser: Browser, ada: Person
) -> None:
    read(browser, "22/06/2026,Harbour,,-38.00\n")

    step(browser, "ask", question="What is this £38?")
    asked = [one.title for one in today_items(ada, NOON, ada.hats)]
    assert "What is this £38?" in asked

    step(browser, "answer", answer="Parking for a week")
    left = [one.title for one in today_items(ada, NOON, ada.hats)]
    assert "What is this £38?" not in left
    assert (
        "Parking for a week" in browser.get(line().get_absolute_url()).content.decode()
    )


def test_a_line_says_one_thing_only(browser: Browser) -> None:
    invoice = make_invoice()
    read(browser, f"22/06/2026,X,{invoice.number},100.02\n")
    browser.post("/money/bank/settle/")

    said = step(browser, "leave", because="x")

    assert "Somebody has said already what this line is." in said
    assert line().left_because == ""
    assert browser.post(f"/money/bank/{line().pk}/nonsense/").status_code == 404


def test_the_database_keeps_what_the_bank_wrote(browser: Browser) -> None:
    read(browser, "22/06/2026,Harbour,,-38.00\n")

    with pytest.raises(DatabaseError, match="never changed"), transaction.atomic():
        BankLine.objects.update(amount_minor=1)
    with pytest.raises(DatabaseError, match="never changed"), transaction.atomic():
        BankLine.objects.all().delete()


def test_money_received_twice_is_not_proposed_twice(browser: Browser) -> None:
    invoice = make_invoice()
    record_payment(
        money=make_received(10_002),
        shares={invoice.pk: 10_002},
        by=invoice.job.owner,
        at=NOON,
    )
    read(browser, f"22/06/2026,X,{invoice.number},100.02\n")

    page = browser.get("/money/bank/").content.decode()
    assert "Recorded by hand for Meyer Bakery" in page
    step(browser, "known")

    payment = Payment.objects.get()
    assert line().payment == payment
    step(browser, "reopen")
    assert not hasattr(payment, "reversal")
    assert balance_of(invoice) == 0


def test_what_came_by_hand_keeps_a_second_invoice_of_that_sum_from_being_settled(
    browser: Browser,
) -> None:
    paid = make_invoice()
    by = paid.job.owner
    record_payment(
        money=make_received(10_002), shares={paid.pk: 10_002}, by=by, at=NOON
    )
    owed = make_invoice(make_order(make_job(client=paid.client)))
    read(browser, "22/06/2026,Meyer Bakery,portraits,100.02\n")

    browser.post("/money/bank/settle/")

    assert balance_of(owed) == 10_002
    assert Payment.objects.count() == 1


def test_a_refund_by_hand_is_matched_with_its_line(browser: Browser) -> None:
    invoice = make_invoice()
    by = invoice.job.owner
    record_payment(
        money=make_received(10_002), shares={invoice.pk: 10_002}, by=by, at=NOON
    )
    credit_invoice(invoice_id=invoice.pk, because="Called off", by=by, at=NOON)
    out = pay_back_credited(
        invoice_id=invoice.pk, money=make_received(10_002), by=by, at=NOON
    )
    read(browser, "22/06/2026,Meyer Bakery,back,-100.02\n")

    step(browser, "known")

    assert line().payment == out
