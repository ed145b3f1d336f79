"""Closing a quarter, and what is refused afterwards."""

import io
import zipfile
from datetime import date, timedelta
from typing import Any

import pytest
from django.db import DatabaseError, transaction
from django.test import Client as Browser

from invoicing.books.checks import changed_periods
from invoicing.books.models import account_codes
from invoicing.books.operations import close_period
from invoicing.books.queries import read_facts
from invoicing.books.shown import period_rows
from invoicing.invoices.finishing import finish_document
from invoicing.invoices.issuing import issue_invoice
from invoicing.invoices.models import Invoice
from invoicing.invoices.operations import draft_deposit_invoice
from invoicing.payments.models import Payment
from invoicing.payments.operations import (
    receive_deposit,
    record_payment,
    reverse_payment,
)
from invoicing.periods.calendar import Span
from invoicing.periods.models import ClosedPeriod
from invoicing.periods.operations import ClosedPeriodError, ClosingError
from invoicing.purchases.models import Purchase
from invoicing.purchases.operations import (
    change_purchase,
    drop_purchase,
    keep_receipt,
    record_purchase,
)
from jobs.jobs.models import Job
from studio.people.models import Person
from studio.profile.models import StudioProfile
from tests.make import NOON, make_profile
from tests.make_invoicing import make_invoice, make_order, make_received
from tests.studio.markup import Markup

pytestmark = pytest.mark.django_db
SPRING = Span(date(2026, 4, 1), date(2026, 6, 30))
AFTER = NOON + timedelta(days=20)
TODAY = NOON.date()


@pytest.fixture
def ada() -> Person:
    """Sell for 100.02, get 60.00 of it, and buy prints for 12.00, all in June."""
    invoice = make_invoice()
    by = invoice.job.owner
    record_payment(
        money=make_received(6_000), shares={invoice.pk: 6_000}, by=by, at=NOON
    )
    buy(by)
    return by


def bought(**fields: Any) -> dict[str, Any]:
    return {
        "kind": "MATERIALS",
        "supplier": "Print house",
        "what": "Two prints",
        "bought_on": TODAY,
        "paid_on": TODAY,
        "currency": "GBP",
        "gross_minor": 1_200,
        "tax_minor": 200,
        "tax_rate_basis_points": 2000,
    } | fields


def buy(by: Person, **fields: Any) -> Purchase:
    return record_purchase(details=bought(**fields), by=by, at=NOON)


def close(by: Person) -> ClosedPeriod:
    return close_period(span=SPRING, by=by, at=AFTER)


def test_a_closed_quarter_keeps_its_figures_and_a_new_run_gives_them_again(
    ada: Person,
) -> None:
    closed = close(ada)

    figures = closed.figures
    # 100.02 with 20% in it: tax 16.67. Of the prints 2.00 come back.
    assert (figures["output_minor"], figures["input_minor"]) == (1_667, 200)
    assert (figures["money_in_minor"], figures["costs"]) == (6_000, {"MATERIALS": 1000})
    assert figures["accounts"]["RECEIVABLE"] == 10_002 - 6_000
    assert list(changed_periods()) == []


def test_by_receipt_only_the_money_that_came_counts(ada: Person) -> None:
    StudioProfile.objects.update(tax_basis="RECEIPT")

    # 16.67 x 60.00 / 100.02 = 10.00
    assert close(ada).figures["output_minor"] == 1_000


def test_nothing_lands_in_a_closed_period(ada: Person) -> None:
    standing = Purchase.objects.get()
    late = make_invoice()
    close(ada)

    with pytest.raises(ClosedPeriodError, match="closed up to 30 June 2026"):
        record_payment(
            money=make_received(100), shares={late.pk: 100}, by=ada, at=AFTER
        )
    with pytest.raises(ClosedPeriodError):
        buy(ada)
    with pytest.raises(ClosedPeriodError):
        change_purchase(
            purchase_id=standing.pk, details={"gross_minor": 900}, by=ada, at=AFTER
        )
    with pytest.raises(ClosedPeriodError):
        drop_purchase(purchase_id=standing.pk, because="Twice", by=ada, at=AFTER)
    assert list(changed_periods()) == []


def test_a_deposit_dated_into_a_closed_period_is_refused_whole(ada: Person) -> None:
    close(ada)
    order = make_order(deposit_minor=2_500)
    by = Job.objects.get(pk=order.job_id).owner
    draft = draft_deposit_invoice(order=order, by=by, at=AFTER)
    assert draft is not None

    with pytest.raises(ClosedPeriodError):
        receive_deposit(draft_id=draft.pk, money=make_received(2_500), by=by, at=AFTER)

    draft.refresh_from_db()
    assert not draft.is_issued
    assert issue_invoice(draft_id=draft.pk, by=by, at=AFTER).number == "2026-0002"


def test_what_follows_is_dated_after_it(ada: Person) -> None:
    owed = buy(ada, paid_on=None, supplier="Album maker")
    close(ada)

    change_purchase(
        purchase_id=owed.pk, details={"paid_on": AFTER.date()}, by=ada, at=AFTER
    )
    change_purchase(purchase_id=owed.pk, details={"what": "An album"}, by=ada, at=AFTER)
    payment = Payment.objects.get()
    reverse_payment(payment_id=payment.pk, because="Twice", by=ada, at=AFTER)

    assert list(changed_periods()) == []


def test_a_receipt_may_still_come_after_closing(ada: Person) -> None:
    close(ada)

    kept = keep_receipt(
        purchase_id=Purchase.objects.get().pk, content=b"%PDF-1.4", by=ada, at=AFTER
    )

    assert kept.receipt is not None
    assert list(changed_periods()) == []


def test_a_period_that_runs_or_is_closed_is_not_closed(ada: Person) -> None:
    with pytest.raises(ClosingError, match="not over yet"):
        close_period(span=SPRING, by=ada, at=NOON)
    close(ada)
    with pytest.raises(ClosingError, match="closed already"):
        close(ada)
    with pytest.raises(ClosingError, match="Part of June 2026"):
        close_period(span=Span(date(2026, 6, 1), SPRING.last), by=ada, at=AFTER)


def test_an_earlier_period_may_still_be_closed_after_a_later_one(ada: Person) -> None:
    close(ada)
    winter = Span(date(2026, 1, 1), date(2026, 3, 31))

    close_period(span=winter, by=ada, at=AFTER)

    assert ClosedPeriod.objects.count() == 2
    assert list(changed_periods()) == []


def test_the_list_shows_closed_periods_as_they_were_closed(ada: Person) -> None:
    close(ada)
    # By receipt 10.00 of tax would be on sales, less 2.00 on prints; filed was 16.67.
    profile = make_profile(tax_basis="RECEIPT", period_months=1)

    rows = period_rows(read_facts("GBP"), profile, on=AFTER.date())

    assert [(row.span.name, row.state, row.tax_due.minor) for row in rows] == [
        ("July 2026", "Running", 0),
        ("April to June 2026", "Closed", 1_467),
    ]
    half = make_profile(tax_basis="RECEIPT", period_months=12)
    (row, _) = period_rows(read_facts("GBP"), half, on=AFTER.date())
    assert (row.span.name, row.state) == ("January to December 2026", "Closed in part")


def test_the_database_keeps_a_closed_period(ada: Person) -> None:
    close(ada)

    for change in (
        lambda: ClosedPeriod.objects.update(figures={}),
        lambda: ClosedPeriod.objects.all().delete(),
    ):
        with pytest.raises(DatabaseError, match="never reopened"), transaction.atomic():
            change()


def test_a_change_behind_the_programs_back_is_found(ada: Person) -> None:
    close(ada)

    Purchase.objects.update(gross_minor=5_000)

    assert list(changed_periods()) == [
        "The books of April to June 2026 give other figures than were closed."
    ]


class TestPages:
    @pytest.fixture
    def browser(
        self, ada: Person, client: Browser, monkeypatch: pytest.MonkeyPatch
    ) -> Browser:
        monkeypatch.setattr("django.utils.timezone.now", lambda: AFTER)
        client.force_login(ada)
        return client

    def test_a_quarter_is_looked_at_and_closed(self, browser: Browser) -> None:
        books = browser.get("/money/books/").content.decode()
        assert "April to June 2026" in books
        assert "To close" in books

        page = Markup(browser.get("/money/books/2026-04-01/").content.decode())
        assert "VAT on sales: £16.67" in page.words
        assert "1 purchase without a receipt" in page.words
        assert page.forbidden() == []

        done = browser.post("/money/books/2026-04-01/close/", follow=True)
        assert "April to June 2026 is closed." in done.content.decode()
        assert "Close April" not in done.content.decode()

    def test_who_is_outside_of_tax_reads_no_word_of_it(self, browser: Browser) -> None:
        make_profile(tax_registered=False)

        for address in ("", "2026-04-01/"):
            words = Markup(
                browser.get(f"/money/books/{address}").content.decode()
            ).words
            assert "VAT" not in words
            assert "tax point" not in words
        page = browser.get("/money/books/accounts/")
        codes = dict(page.context["form"].initial)
        asked = {name: codes[name] for name in page.context["form"].fields}
        assert "Tax on" not in Markup(page.content.decode()).words

        refused = browser.post("/money/books/accounts/", asked | {"BANK": "2200"})
        assert "“Tax on sales” has this code." in refused.content.decode()
        browser.post("/money/books/accounts/", asked | {"SALES": "8400"})
        assert account_codes() == codes | {"SALES": "8400"}

    def test_the_pack_holds_lists_papers_and_receipts(
        self, browser: Browser, ada: Person
    ) -> None:
        invoice = Invoice.objects.get()
        finish_document(invoice_id=invoice.pk, at=NOON)
        purchase = Purchase.objects.get()
        keep_receipt(purchase_id=purchase.pk, content=b"%PDF-1.4", by=ada, at=NOON)

        answer = browser.get("/money/books/2026-04-01/pack.zip")

        with zipfile.ZipFile(io.BytesIO(answer.content)) as pack:
            assert pack.testzip() is None
            assert set(pack.namelist()) == {
                "summary.txt",
                "journal.csv",
                "tax.csv",
                "payments.csv",
                "purchases.csv",
                "numbers.csv",
                f"papers/{invoice.number}.pdf",
                f"receipts/purchase-{purchase.pk}.pdf",
            }
            assert pack.read(f"papers/{invoice.number}.pdf").startswith(b"%PDF-")
            assert "missing" not in pack.read("numbers.csv").decode()

    @pytest.mark.parametrize("day", ["2026-04-02", "2026-13-01", "0000-00-00"])
    def test_a_day_that_begins_no_period_has_no_page(
        self, browser: Browser, day: str
    ) -> None:
        assert browser.get(f"/money/books/{day}/").status_code == 404

    def test_codes_of_ones_own_stand_in_the_journal(self, browser: Browser) -> None:
        page = browser.get("/money/books/accounts/")
        codes = dict(page.context["form"].initial)

        refused = browser.post("/money/books/accounts/", codes | {"BANK": "4000"})
        assert "“Bank” has this code." in refused.content.decode()
        browser.post("/money/books/accounts/", codes | {"SALES": "8400"})

        journal = browser.get("/money/books/2026-04-01/journal.csv").content.decode()
        assert ",8400,Sales," in journal
        assert ",4000," not in journal
