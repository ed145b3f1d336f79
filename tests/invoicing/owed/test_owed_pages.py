"""What is owed, by its pages; reminders and promises."""

import io
from dataclasses import replace
from datetime import timedelta

import pytest
from django.test import Client as Browser
from openpyxl import load_workbook

from invoicing.invoices.finishing import finish_document
from invoicing.invoices.models import Invoice
from invoicing.owed.models import LateBand, LateRate, Reminder
from invoicing.owed.operations import ReminderError, send_reminder
from invoicing.payments.operations import record_payment
from jobs.clients.models import Client, ClientKind
from studio.mail.models import Message
from studio.money import Money
from tests.make import NOON, make_client, make_job
from tests.make_invoicing import make_invoice, make_line, make_order, make_received
from tests.studio.markup import Markup

pytestmark = pytest.mark.django_db
LATER = NOON + timedelta(days=44)  # 30 days past due: the invoice is due in 14


@pytest.fixture
def invoice() -> Invoice:
    made = make_invoice()
    finish_document(invoice_id=made.pk, at=NOON)
    Client.objects.filter(pk=made.client_id).update(email="b@band.example")
    made.client.refresh_from_db()
    return made


@pytest.fixture
def browser(
    invoice: Invoice, client: Browser, monkeypatch: pytest.MonkeyPatch
) -> Browser:
    monkeypatch.setattr("django.utils.timezone.now", lambda: LATER)
    client.force_login(invoice.job.owner)
    return client


def test_what_is_owed_is_shown_for_any_day(browser: Browser, invoice: Invoice) -> None:
    now = Markup(browser.get("/money/owed/").content.decode())
    assert "100.02" in now.words
    assert now.forbidden() == []

    before = browser.get("/money/owed/?on=2026-06-20").content.decode()
    assert "Nobody like that owed anything on that day." in before

    listed = browser.get("/money/owed/list.csv").content.decode("utf-8-sig")
    assert f"{invoice.number},2026-07-05,30,1–30 days,100.02,GBP" in listed


def test_the_table_is_narrowed_and_sorted_and_goes_as_it_stands(
    browser: Browser, invoice: Invoice
) -> None:
    small = make_invoice(
        make_order(make_job(client=make_client("Abel")), lines=(make_line(900),))
    )

    def shown(query: str) -> list[str]:
        return [
            row.name for row in browser.get(f"/money/owed/?{query}").context["rows"]
        ]

    assert shown("") == ["Meyer Bakery", "Abel"]
    assert shown("sort=client") == ["Abel", "Meyer Bakery"]
    assert shown("sort=-client") == ["Meyer Bakery", "Abel"]
    assert shown("sort=owed") == ["Abel", "Meyer Bakery"]
    assert shown("words=ABEL") == shown("most=9") == ["Abel"]
    assert shown("least=9.01&sort=nonsense") == ["Meyer Bakery"]
    page = browser.get("/money/owed/?sort=age1&words=e").content.decode()
    assert 'aria-sort="ascending"><a href="?sort=-age1&amp;words=e">1–30 days' in page

    made = browser.get("/money/owed/list.xlsx?words=abel").content
    rows = list(load_workbook(io.BytesIO(made)).active.iter_rows(values_only=True))
    assert [row[:2] + row[5:] for row in rows[1:]] == [("Abel", small.number, 9, "GBP")]
    assert browser.get("/money/owed/list.pdf").status_code == 404


def test_currencies_stand_apart_and_long_lists_are_paged(
    browser: Browser, invoice: Invoice, monkeypatch: pytest.MonkeyPatch
) -> None:
    alone = browser.get("/money/owed/").content.decode()
    euro = make_order(make_job(client=make_client("Abel")), lines=(make_line(5_000),))
    make_invoice(replace(euro, content=replace(euro.content, currency="EUR")))
    make_invoice(make_order(make_job(client=make_client("Zoe")), lines=(make_line(9),)))
    monkeypatch.setattr("invoicing.owed.age_views.PAGE", 1)

    pounds = browser.get("/money/owed/")
    second = browser.get("/money/owed/?page=2")
    euros = browser.get("/money/owed/?currency=EUR&least=40")
    money = browser.get("/money/").content.decode()

    assert 'aria-label="Currency"' not in alone
    assert [tab.sum.minor for tab in pounds.context["tabs"]] == [10_011, 5_000]
    assert pounds.context["totals"].owed.minor == 10_011
    assert [row.name for row in second.context["rows"]] == ["Zoe"]
    assert [row.name for row in euros.context["rows"]] == ["Abel"]
    assert euros.context["totals"].owed == Money.from_minor(5_000, "EUR")
    assert "Amounts in EUR." in euros.content.decode()
    listed = browser.get("/money/owed/list.csv?currency=EUR").content.decode()
    assert "50.00,EUR" in listed
    assert "GBP" not in listed
    assert "£100.11" in money
    assert "€50.00</a> besides" in money


def test_an_account_shows_what_moved(browser: Browser, invoice: Invoice) -> None:
    record_payment(
        money=make_received(4_000),
        shares={invoice.pk: 4_000},
        by=invoice.job.owner,
        at=NOON,
    )

    words = Markup(
        browser.get(f"/money/owed/{invoice.client_id}/").content.decode()
    ).words

    assert f"Invoice {invoice.number}" in words
    assert "60.02" in words


def test_a_reminder_goes_as_it_was_edited_with_the_invoice(
    browser: Browser, invoice: Invoice
) -> None:
    address = f"/money/invoices/{invoice.pk}/remind/"
    first = dict(browser.get(address).context["form"].initial)
    assert "£100.02 is open" in first["words"]

    browser.post(address, first | {"words": "Dear band, please pay."})

    message = Message.objects.get(occasion=f"reminder:{invoice.pk}:1")
    assert message.body.strip() == "Dear band, please pay."
    assert message.files.count() == 1
    assert browser.get(address).context["form"].initial["step"] == 2


def test_a_form_sent_twice_reminds_once(browser: Browser, invoice: Invoice) -> None:
    address = f"/money/invoices/{invoice.pk}/remind/"
    first = dict(browser.get(address).context["form"].initial)

    browser.post(address, first)
    browser.post(address, first)

    assert Reminder.objects.count() == 1


def test_who_paid_meanwhile_is_not_reminded(browser: Browser, invoice: Invoice) -> None:
    by = invoice.job.owner
    record_payment(
        money=make_received(10_002), shares={invoice.pk: 10_002}, by=by, at=NOON
    )

    with pytest.raises(ReminderError, match="paid meanwhile"):
        send_reminder(invoice_id=invoice.pk, step=1, letter=("a", "b"), by=by, at=LATER)
    answer = browser.get(f"/money/invoices/{invoice.pk}/remind/")
    assert answer.status_code == 302


def test_a_promise_stands_beside_the_next_reminder(
    browser: Browser, invoice: Invoice
) -> None:
    browser.post(
        f"/money/invoices/{invoice.pk}/promise/",
        {"promised_on": "2026-08-10", "note": "After the concert"},
    )

    page = browser.get(f"/money/invoices/{invoice.pk}/remind/").content.decode()
    assert "Monday 10 August 2026: “After the concert”" in page


def test_interest_is_worked_out_for_an_organisation_and_never_for_a_family(
    browser: Browser, invoice: Invoice
) -> None:
    LateRate.objects.create(from_on="2026-01-01", basis_points=1_325)
    LateBand.objects.create(least_minor=0, sum_minor=4_000)
    address = f"/money/invoices/{invoice.pk}/remind/"

    Client.objects.update(kind=ClientKind.PERSON)
    assert "Interest so far" not in browser.get(address).content.decode()

    Client.objects.update(kind=ClientKind.ORGANISATION)
    words = Markup(browser.get(address).content.decode()).words
    # 100.02 x 13.25% x 30 / 365 = 1.0893
    assert "30 days at 13.25% on £100.02" in words
    assert "£41.09" in words


def test_rates_are_kept_and_half_a_line_is_refused(browser: Browser) -> None:
    def posted(percent: str) -> dict[str, str]:
        return {
            "rates-TOTAL_FORMS": "1",
            "rates-INITIAL_FORMS": "0",
            "rates-0-from_on": "2026-01-01",
            "rates-0-percent": percent,
            "rates-0-is_fixed": "on",
            "bands-TOTAL_FORMS": "1",
            "bands-INITIAL_FORMS": "0",
            "bands-0-least": "1000",
            "bands-0-fixed": "70",
        }

    refused = browser.post("/money/owed/rates/", posted(""))
    assert "Give the day and the rate." in refused.content.decode()
    browser.post("/money/owed/rates/", posted("12.25"))

    assert LateRate.objects.get().basis_points == 1_225
    assert LateBand.objects.get().sum_minor == 7_000
