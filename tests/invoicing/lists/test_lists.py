"""The money tables: narrowed, sorted, summed, taken away."""

import io
from datetime import date, timedelta
from typing import Any

import pytest
from django.db import connection
from django.test import Client as Browser
from django.test.utils import CaptureQueriesContext
from openpyxl import load_workbook
from pypdf import PdfReader

from invoicing.invoices.models import Invoice
from invoicing.invoices.taking_back import credit_invoice
from invoicing.owed.models import Reminder
from invoicing.payments.operations import record_payment
from invoicing.purchases.models import Purchase, PurchaseKind
from invoicing.purchases.operations import record_purchase
from jobs.clients.models import Client
from studio.people.models import Person
from tests.make import NOON, make_client, make_job, make_person, make_profile
from tests.make_invoicing import make_invoice, make_line, make_order, make_received
from tests.studio.markup import Markup

pytestmark = pytest.mark.django_db
LATER = NOON + timedelta(days=20)  # invoices are due in 14 days
PAID_ON = LATER.date()
WILD = "=cmd|' /c calc'!A0"


@pytest.fixture
def ada(monkeypatch: pytest.MonkeyPatch) -> Person:
    monkeypatch.setattr("django.utils.timezone.now", lambda: LATER)
    make_profile()
    return make_person()


@pytest.fixture
def browser(ada: Person, client: Browser) -> Browser:
    client.force_login(ada)
    return client


def invoice_for(name: str, minor: int, by: Person) -> Invoice:
    job = make_job(client=make_client(name, email="a@b.example"), by=by)
    return make_invoice(make_order(job, lines=(make_line(minor),)))


def pay(invoice: Invoice, minor: int, on: date = PAID_ON) -> None:
    by = invoice.job.owner
    record_payment(
        money=make_received(minor, on), shares={invoice.pk: minor}, by=by, at=LATER
    )


def buy(by: Person, supplier: str = "Print rooms", **details: object) -> Purchase:
    bought = {
        "supplier": supplier,
        "what": "Prints",
        "kind": PurchaseKind.MATERIALS,
        "bought_on": NOON.date(),
        "paid_on": NOON.date(),
        "currency": "GBP",
        "gross_minor": 1_200,
    }
    return record_purchase(details=bought | details, by=by, at=NOON)


def names(browser: Browser, path: str) -> list[str]:
    bodies = browser.get(path).context["table"].bodies
    return [row.name for body in bodies for row in body.rows]


def sheet(browser: Browser, path: str) -> list[list[Any]]:
    book = load_workbook(io.BytesIO(browser.get(path).content))
    return [list(row) for row in book.active.iter_rows(values_only=True)]


def test_papers_stand_in_groups_with_their_subtotals(
    browser: Browser, ada: Person
) -> None:
    late, paid = invoice_for("Corvin", 30_000, ada), invoice_for("Nerys", 10_000, ada)
    wrong = invoice_for("Wrong", 7_000, ada)
    pay(paid, 10_000)
    pay(late, 5_000)
    credit_invoice(invoice_id=wrong.pk, because="Wrong name", by=ada, at=NOON)

    page = Markup(browser.get("/money/").content.decode()).words
    assert "Late, 1" in page
    assert "Paid 11 Jul" in page
    assert names(browser, "/money/") == [late.number, paid.number]

    # 300 + 100 + 70 - 70 credited; 150 paid; 250 open: worked by hand
    feet = browser.get("/money/?show=all").context["table"].feet
    assert [cell.words for cell in feet[0]][:1] == ["All 4"]
    assert [cell.words for cell in feet[0] if cell.words][1:] == [
        "400.00",
        "150.00",
        "250.00",
    ]


def test_what_was_paid_and_then_taken_back_is_to_be_paid_back(
    browser: Browser, ada: Person
) -> None:
    paid = invoice_for("Corvin", 30_000, ada)
    pay(paid, 30_000)
    credit_invoice(invoice_id=paid.pk, because="Called off", by=ada, at=LATER)

    head, *rows = sheet(browser, "/money/lists/papers.xlsx?show=credited")

    assert [row[head.index("Balance")] for row in rows] == [-300]
    assert rows[0][head.index("State")] == "To pay back"


def test_columns_sort_both_ways_and_say_so(browser: Browser, ada: Person) -> None:
    first, second, third = (
        invoice_for(name, minor, ada)
        for name, minor in (("Cora", 300), ("Abel", 900), ("Bess", 300))
    )

    assert names(browser, "/money/?sort=client") == [
        second.number,
        third.number,
        first.number,
    ]
    # rows alike stay in the order in which they were issued, upside down as a whole
    assert names(browser, "/money/?sort=total") == [
        first.number,
        third.number,
        second.number,
    ]
    assert names(browser, "/money/?sort=-total") == [
        second.number,
        third.number,
        first.number,
    ]
    page = browser.get("/money/?sort=total&words=b").content.decode()
    assert 'aria-sort="ascending"><a href="?sort=-total&amp;words=b">Total' in page
    assert names(browser, "/money/?sort=nonsense") == names(browser, "/money/")


def test_filters_narrow_and_a_wrong_one_is_said_beside_its_box(
    browser: Browser, ada: Person
) -> None:
    small, large = invoice_for("Cora", 300, ada), invoice_for("Abel", 90_000, ada)
    pay(small, 300, NOON.date())

    assert names(browser, "/money/?show=paid") == [small.number]
    assert names(browser, "/money/?show=all&words=abel") == [large.number]
    assert names(browser, "/money/?show=all&least=100") == [large.number]
    assert names(browser, "/money/?show=all&most=3.00") == [small.number]
    assert names(browser, "/money/?show=all&first=2026-06-22") == []
    assert names(browser, "/money/?show=all&kind=credit-notes") == []

    answer = browser.get("/money/?show=all&first=2026-06-22&last=2026-06-01")
    assert "This day is before the first." in answer.content.decode()
    assert "Write a day that exists" in browser.get("/money/?last=x").content.decode()


def test_currencies_are_never_added_up(browser: Browser, ada: Person) -> None:
    buy(ada, gross_minor=1_200)
    buy(ada, "Tokyo lamps", gross_minor=900, currency="JPY")

    feet = browser.get("/money/purchases/").context["table"].feet
    said = [[cell.words for cell in row if cell.words][:2] for row in feet]
    assert said == [["One row", "12.00"], ["One row, in JPY", "JP¥900"]]
    assert names(browser, "/money/purchases/?least=100") == ["Tokyo lamps, Prints"]
    amounts = [row[8] for row in sheet(browser, "/money/lists/purchases.xlsx")[1:]]
    assert sorted(amounts) == [12, 900]


def test_sheets_hold_what_the_filter_shows_and_text_stays_text(
    browser: Browser, ada: Person
) -> None:
    wild, other = invoice_for(WILD, 12_345, ada), invoice_for("Nerys", 500, ada)
    pay(other, 500, NOON.date())

    head, row = sheet(browser, "/money/lists/papers.xlsx?show=late")
    assert head[:4] == ["Number", "Client and job", "Job", "Issued"]
    assert row[:2] == [wild.number, WILD]
    assert row[3].date() == date(2026, 6, 21)
    # the tax in 123.45 at 20%: 123.45 x 20 / 120 = 20.575
    assert row[5:] == [20.58, 123.45, 0, 123.45, "Late", "GBP"]

    listed = browser.get("/money/lists/papers.csv?show=late")
    lines = listed.content.decode("utf-8-sig").splitlines()
    assert f"{wild.number},'{WILD}," in lines[1]
    assert len(lines) == 2
    [payment] = sheet(browser, "/money/lists/payments.xlsx?words=nerys")[1:]
    assert payment[4:7] == [other.number, 5, 0]
    assert browser.get("/money/lists/papers.pdf").status_code == 404
    assert browser.get("/money/lists/nothing.csv").status_code == 404


def test_the_number_of_questions_stays_with_more_rows(
    browser: Browser, ada: Person
) -> None:
    def asked(path: str) -> int:
        with CaptureQueriesContext(connection) as seen:
            browser.get(path)
        return len(seen)

    paths = ("/money/", "/money/payments/", "/money/purchases/")
    pay(invoice_for("Cora", 300, ada), 300)
    buy(ada)
    browser.get("/money/")  # what is learnt once is learnt now
    before = [asked(path) for path in paths]
    for name in ("Abel", "Bess", "Dora"):
        pay(invoice_for(name, 300, ada), 300)
        buy(ada, name)

    assert [asked(path) for path in paths] == before


def test_ticked_papers_are_printed_as_one(browser: Browser, ada: Person) -> None:
    one, two = invoice_for("Cora", 300, ada), invoice_for("Abel", 900, ada)

    answer = browser.post(
        "/money/lists/papers/chosen/", {"act": "print", "chosen": [one.pk, two.pk]}
    )

    assert answer["Content-Type"] == "application/pdf"
    pages = [
        page.extract_text() for page in PdfReader(io.BytesIO(answer.content)).pages
    ]
    assert [one.number in pages[0], two.number in pages[1]] == [True, True]


def test_a_row_that_changed_after_it_was_ticked_is_refused(
    browser: Browser, ada: Person
) -> None:
    bought = buy(ada)
    table = browser.get("/money/purchases/").context["table"]
    key = table.bodies[0].rows[0].key
    Purchase.objects.filter(pk=bought.pk).update(gross_minor=1_300)

    def said(*keys: object) -> str:
        answer = browser.post(
            "/money/lists/purchases/chosen/",
            {"act": "sheet", "chosen": keys, "back": "show=all"},
            follow=True,
        )
        return answer.content.decode()

    assert "was changed meanwhile" in said(key)
    assert "Tick the rows first. Nothing was done." in said()
    assert "1 of the rows is gone." in said("999.x")
    wrong = {"act": "print", "chosen": [bought.pk]}
    assert browser.post("/money/lists/purchases/chosen/", wrong).status_code == 404


def test_reminders_of_several_are_read_before_they_go(
    browser: Browser, ada: Person
) -> None:
    late, mute = invoice_for("Cora", 300, ada), invoice_for("Abel", 900, ada)
    paid = invoice_for("Bess", 500, ada)
    Client.objects.filter(pk=mute.client_id).update(email="")
    pay(paid, 500)

    page = browser.post(
        "/money/lists/papers/chosen/",
        {"act": "remind", "chosen": [late.pk, mute.pk, paid.pk]},
        follow=True,
    )
    words = Markup(page.content.decode()).words
    assert f"{mute.number}: Abel has no e-mail address." in words
    assert f"{paid.number} has nothing open." in words
    assert not Reminder.objects.exists()

    [(_, form)] = page.context["pairs"]
    sent = {form.add_prefix(name): value for name, value in form.initial.items()}
    for _ in range(2):  # a form sent twice reminds once
        answer = browser.post(
            "/money/remind/", sent | {"invoice": [late.pk, paid.pk]}, follow=True
        )
    assert f"{paid.number} has nothing open." in answer.content.decode()
    assert Reminder.objects.get().invoice == late
