"""The pages of a year, of own money, and their sheets."""

import io
from datetime import date, timedelta

import pytest
from django.test import Client as Browser
from openpyxl import load_workbook

from invoicing.bank.models import BankLine
from invoicing.books.accounts import Account
from invoicing.books.journal import balances, entries
from invoicing.books.queries import read_facts
from invoicing.drawings.models import OwnerMove
from invoicing.payments.operations import record_payment
from invoicing.periods.calendar import Span
from invoicing.periods.operations import keep_closed
from studio.people.models import Person
from studio.profile.models import StudioProfile
from tests.invoicing.bank.test_bank_pages import line, read, step
from tests.make import NOON, make_person, make_profile
from tests.make_invoicing import make_invoice, make_line, make_order, make_received
from tests.studio.markup import Markup

pytestmark = pytest.mark.django_db
HERE = "/money/years/2026-01-01/"


@pytest.fixture
def ada(monkeypatch: pytest.MonkeyPatch) -> Person:
    later = NOON + timedelta(days=3)
    monkeypatch.setattr("django.utils.timezone.now", lambda: later)
    make_profile(tax_registered=False)
    return make_person()


@pytest.fixture
def browser(ada: Person, client: Browser) -> Browser:
    client.force_login(ada)
    return client


def earn(by: Person) -> None:
    order = make_order(lines=(make_line(50_000, rate=0),))
    StudioProfile.objects.update(tax_registered=False)
    invoice = make_invoice(order, by=by)
    shares = {invoice.pk: 50_000}
    record_payment(money=make_received(50_000), shares=shares, by=by, at=NOON)


def take_out(browser: Browser, **changed: object) -> int:
    sent = {"way": "out", "amount": "80", "moved_on": "2026-06-22"}
    sent |= {"moved_by": "BANK", "note": "Rent at home", "form_key": "k"}
    return browser.post("/money/own/new/", sent | changed).status_code


def test_a_year_adds_up_and_leads_to_its_documents(
    browser: Browser, ada: Person
) -> None:
    earn(ada)
    take_out(browser)

    assert browser.get("/money/years/")["Location"] == HERE
    words = Markup(browser.get(HERE).content.decode()).words
    assert "1 January 2026 to 31 December 2026" in words
    assert words.count("Not tax or legal advice; check local rules") == 1
    assert "Profit£500.00" in words

    sales = Markup(browser.get(f"{HERE}sales/").content.decode()).words
    assert "Paid on invoices: £500.00" in sales
    assert "Rent at home" in browser.get(f"{HERE}taken-out/").content.decode()
    assert browser.get(f"{HERE}travel/").status_code == 404
    assert browser.get("/money/years/2026-02-01/").status_code == 404


def test_the_first_day_is_a_setting(browser: Browser, ada: Person) -> None:
    page = browser.get("/settings/books/").context["form"]
    sent = dict(page.initial) | {"year_first_day": 31, "year_first_month": 4}

    refused = browser.post("/settings/books/", sent)
    assert "That month has not so many days." in refused.content.decode()
    browser.post("/settings/books/", sent | {"year_first_day": 6})

    assert browser.get("/money/years/")["Location"] == "/money/years/2026-04-06/"


def test_the_sheet_holds_every_document(browser: Browser, ada: Person) -> None:
    earn(ada)
    take_out(browser, note="=1+1")

    made = browser.get(f"{HERE}sheet.xlsx").content
    rows = list(load_workbook(io.BytesIO(made)).active.iter_rows(values_only=True))
    assert [(row[0], row[1], row[5], row[8]) for row in rows[1:]] == [
        ("Income", "4000", "Meyer Bakery", 500),
        ("Own money", "3000", "=1+1", 80),
    ]
    assert "'=1+1" in browser.get(f"{HERE}sheet.csv").content.decode()
    assert browser.get(f"{HERE}sheet.pdf").status_code == 404


def test_a_studio_in_tax_settles_by_period(browser: Browser) -> None:
    StudioProfile.objects.update(tax_registered=True)

    assert browser.get("/money/years/")["Location"] == "/money/books/"
    assert browser.get(HERE).status_code == 404


def test_own_money_is_written_down_once_and_taken_back(browser: Browser) -> None:
    assert take_out(browser) == 302
    assert take_out(browser) == 302
    move = OwnerMove.objects.get()
    assert move.amount_minor == -8_000
    held = balances(entries(read_facts("GBP")))
    assert (held[Account.BANK], held[Account.OWNER]) == (-8_000, 8_000)

    assert take_out(browser, amount="", form_key="b") == 422
    assert take_out(browser, moved_on="2026-07-22", form_key="b") == 422
    browser.post(f"/money/own/{move.pk}/take-back/", {"because": "Twice"})

    assert balances(entries(read_facts("GBP"))) == {}
    assert "Taken back: Twice" in browser.get("/money/own/").content.decode()


def test_closed_books_take_no_own_money(browser: Browser, ada: Person) -> None:
    june = Span(date(2026, 6, 1), date(2026, 6, 30))
    keep_closed(span=june, figures={}, by=ada, at=NOON)

    assert take_out(browser) == 422
    assert not OwnerMove.objects.exists()


def test_a_line_of_the_bank_is_own_money_until_it_is_opened_again(
    browser: Browser,
) -> None:
    read(browser, "22/06/2026,Ada Vane,to own account,-300.00\n")

    step(browser, "own", note="July at home")
    assert OwnerMove.objects.get().note == "July at home"
    assert not BankLine.objects.open().exists()
    assert "taken out on" in browser.get(line().get_absolute_url()).content.decode()

    step(browser, "reopen")
    assert BankLine.objects.open().exists()
    step(browser, "own")
    assert OwnerMove.objects.standing().get().note == "to own account"
