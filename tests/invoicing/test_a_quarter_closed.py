"""A quarter walked through the forms, closed, and proven in four places.

What the tax summary, the ageing, the accounts of the clients and the journal say is
compared by another bookkeeper: the journal is loaded into a fresh table, and the sums
were worked by hand before.
"""

from __future__ import annotations

import io
import zipfile
from datetime import UTC, date, datetime
from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client as Browser

from invoicing.bank.models import BankLine
from invoicing.books.accounts import Account
from invoicing.books.checks import changed_periods
from invoicing.invoices.models import Invoice
from invoicing.invoices.operations import (
    draft_balance_invoice,
    draft_deposit_invoice,
)
from invoicing.payments.models import Payment
from invoicing.periods.models import ClosedPeriod
from invoicing.purchases.models import Purchase
from jobs.clients.models import Client, ClientKind
from jobs.jobs.models import Job
from studio.people.models import Person
from tests.invoicing.books.test_journal import held, loaded
from tests.make import make_client, make_job, make_person, make_profile
from tests.make_invoicing import make_line, make_order
from tests.studio.markup import Markup

pytestmark = pytest.mark.django_db
APRIL, JUNE, JULY = (
    datetime(2026, 4, 10, 12, tzinfo=UTC),
    datetime(2026, 6, 20, 12, tzinfo=UTC),
    datetime(2026, 7, 5, 12, tzinfo=UTC),
)
LAST = date(2026, 6, 30)
BOOKS = "/money/books/2026-04-01/"


class Desk:
    """Somebody who fills forms in, on a day of their own."""

    def __init__(self, by: Person, browser: Browser) -> None:
        self.by, self.browser, self.now = by, browser, APRIL
        browser.force_login(by)

    def open(self, path: str, **query: str) -> Any:
        answer = self.browser.get(path, query)
        assert answer.status_code == 200, (path, answer.status_code)
        return answer

    def send(self, path: str, **typed: Any) -> Any:
        """Open a page with a form, type into it and send it; it must be taken."""
        page = Markup(self.open(path).content.decode())
        shown = {
            attrs["name"]: attrs.get("value", "")
            for attrs in page.of("input")
            if attrs.get("name") and attrs.get("type") not in {"checkbox", "radio"}
        }
        answer = self.browser.post(path, {**shown, **typed})
        assert answer.status_code == 302, answer.context["form"].errors
        return answer

    def refused(self, path: str, **typed: Any) -> str:
        answer = self.browser.post(path, typed, follow=True)
        return Markup(answer.content.decode()).words


@pytest.fixture
def desk(client: Browser, monkeypatch: pytest.MonkeyPatch) -> Desk:
    desk = Desk(make_person(), client)
    monkeypatch.setattr("django.utils.timezone.now", lambda: desk.now)
    make_profile()
    return desk


def job_of(name: str, kind: ClientKind = ClientKind.PERSON) -> Job:
    buyer = make_client(name, kind=kind, email="", address="1 Quay\nSandhaven")
    return make_job(f"Portraits of {name}", client=buyer)


def invoiced(desk: Desk, job: Job, minor: int, *, deposit: int = 0) -> Invoice:
    """Issue what a job comes to by its pages, its deposit first, received as asked."""
    order = make_order(job, lines=(make_line(minor),), deposit_minor=deposit)
    if asked := draft_deposit_invoice(order=order, by=desk.by, at=desk.now):
        desk.send(f"/money/drafts/{asked.pk}/received/", method="TRANSFER")
    draft = draft_balance_invoice(order=order, by=desk.by, at=desk.now)
    desk.send(draft.get_absolute_url(), treatment="S", issue="1")
    return Invoice.objects.get(draft=draft)


def paid(desk: Desk, invoice: Invoice, amount: str) -> None:
    desk.send(
        f"/money/invoices/{invoice.pk}/payment/", amount=amount, method="TRANSFER"
    )


def deposit_parts_and_over(desk: Desk) -> None:
    """Take a deposit of 50.02 on 100.02, a part, and 5.00 more than the rest."""
    invoice = invoiced(desk, job_of("Abel"), 10_002, deposit=5_002)
    paid(desk, invoice, "20.00")
    paid(desk, invoice, "35.00")


def late_and_charged(desk: Desk) -> None:
    """Have a firm pay 200.00 ahead and be late with 1,000.00."""
    invoice = invoiced(
        desk, job_of("Brass & Co", ClientKind.ORGANISATION), 120_000, deposit=20_000
    )
    desk.now = JUNE
    desk.send(
        "/money/owed/rates/",
        **{"rates-0-from_on": "2026-01-01", "rates-0-percent": "11.75"},
        **{"bands-0-least": "1000", "bands-0-fixed": "70"},
    )
    made = desk.send(f"/money/invoices/{invoice.pk}/late/")
    desk.send(made["Location"], treatment="O", issue="1")


def credited_in_part(desk: Desk) -> None:
    """Take 20.00 of 99.99 back, and pay them back."""
    invoice = invoiced(desk, job_of("Cora"), 9_999)
    paid(desk, invoice, "99.99")
    address = f"/money/invoices/{invoice.pk}"
    desk.send(
        f"{address}/credit/",
        scope="part",
        because="A print less",
        **{"line-0-amount": "20"},
    )
    desk.send(f"{address}/back/", method="TRANSFER")


def written_off(desk: Desk) -> None:
    invoice = invoiced(desk, job_of("Drift Ltd", ClientKind.ORGANISATION), 30_000)
    desk.send(f"/money/invoices/{invoice.pk}/write-off/", because="Wound up")


def bought(desk: Desk) -> None:
    """Buy for 120.00, a quarter of it private; and have the bank tell of 64.80."""
    desk.send(
        "/money/purchases/new/",
        supplier="Print house",
        what="Frames",
        kind="MATERIALS",
        gross="120",
        rate="20",
        paid_from="BANK",
        private_percent="25",
    )
    receipt = SimpleUploadedFile("r.pdf", b"%PDF-1.4")
    kept = f"/money/purchases/{Purchase.objects.get().pk}/receipt/keep/"
    assert desk.browser.post(kept, {"receipt": receipt}).status_code == 302
    rows = "Date,Name,Reference,Amount\n19/06/2026,Paper mill,prints,-64.80\n"
    sent = SimpleUploadedFile("lines.csv", rows.encode())
    columns = desk.browser.post("/money/bank/read/", {"file": sent})["Location"]
    guess = desk.open(columns).context["form"].initial
    chosen = {name: "" if value is None else value for name, value in guess.items()}
    desk.browser.post(columns, chosen | {"keep": "1"})
    line = BankLine.objects.get()
    form = desk.open(line.get_absolute_url()).context["forms"]["spend"]
    typed = {name: form[name].value() or "" for name in form.fields}
    spend = f"{line.get_absolute_url()}spend/"
    assert (
        desk.browser.post(
            spend, typed | {"rate": "20", "kind": "MATERIALS"}
        ).status_code
        == 302
    )


def test_a_quarter_is_closed_and_four_places_agree(desk: Desk) -> None:
    deposit_parts_and_over(desk)
    late_and_charged(desk)
    credited_in_part(desk)
    written_off(desk)
    bought(desk)
    desk.now = JULY
    assert "is closed." in desk.refused(f"{BOOKS}close/")

    pack = zipfile.ZipFile(io.BytesIO(desk.open(f"{BOOKS}pack.zip").content))
    assert pack.read("journal.csv") == desk.open(f"{BOOKS}journal.csv").content
    ledger = loaded(pack.read("journal.csv"))
    off = "SELECT entry_id FROM journal GROUP BY entry_id HAVING SUM(debit - credit)"
    assert ledger.execute(off).fetchall() == []

    agrees_with_tax(desk, ledger)
    agrees_with_what_is_owed(desk, ledger)
    nothing_is_dated_into_it(desk)
    assert list(changed_periods()) == []


def agrees_with_tax(desk: Desk, ledger: Any) -> None:
    page = desk.open(BOOKS)
    shown = page.context["figures"]
    assert page.context["same"]
    for groups in (shown.sales, shown.purchases):
        for group in groups:
            assert sum(one.taxable.minor for one in group.lines) == group.taxable.minor
            assert sum(one.tax.minor for one in group.lines) == group.tax.minor
    net = sum(group.taxable.minor for group in shown.sales)
    # 100.02 + 1,200.00 + 99.99 - 20.00 + 300.00 with 20% in them hold 16.67 + 200.00 +
    # 16.67 - 3.34 + 50.00. Outside of tax 1,000.00 x 11.75% x 57 / 365 = 18.35, and
    # 70.00 for a debt of 1,000.00.
    assert (shown.output.minor, net) == (28_000, 176_836 - 28_000)
    assert shown.output.minor == -held(ledger, Account.OUTPUT_TAX)
    sold = held(ledger, Account.SALES) + held(ledger, Account.DEPOSITS)
    assert net == -sold
    # Three quarters of 20.00, and 10.80.
    assert shown.claimed.minor == 2_580 == held(ledger, Account.INPUT_TAX)


def agrees_with_what_is_owed(desk: Desk, ledger: Any) -> None:
    totals = desk.open("/money/owed/", on=LAST.isoformat()).context["totals"]
    # 1,000.00 and 88.35 of the firm; 5.00 came too much.
    assert (totals.owed.minor, totals.apart.minor) == (108_835, 500)
    on_account = held(ledger, Account.ON_ACCOUNT)
    assert held(ledger, Account.RECEIVABLE) == totals.owed.minor
    assert on_account == -totals.apart.minor
    days = {"first": "2026-04-01", "last": LAST.isoformat()}
    closings = [
        sum(part.closing.minor for part in page.context["statement"].parts)
        for one in Client.objects.all()
        for page in [desk.open(f"/money/owed/{one.pk}/", **days)]
    ]
    assert sorted(closings) == [-500, 0, 0, 108_835]


def nothing_is_dated_into_it(desk: Desk) -> None:
    firm = Invoice.objects.get(purpose="CHARGE")
    money = {"amount": "1", "method": "TRANSFER", "form_key": "k"}
    payment = Payment.objects.filter(amount_minor=3_500).get()
    bought_on = Purchase.objects.earliest("pk")
    for path, typed in (
        (f"invoices/{firm.pk}/payment/", money | {"received_on": "2026-06-30"}),
        (f"payments/{payment.pk}/back/", money | {"received_on": "2026-06-30"}),
        (
            f"invoices/{firm.pk}/write-off/",
            money | {"lost_on": "2026-06-30", "because": "x"},
        ),
        (f"purchases/{bought_on.pk}/take-back/", {"because": "x"}),
    ):
        said = desk.refused(f"/money/{path}", **typed)
        assert "The books are closed up to 30 June 2026" in said, path


def test_a_studio_outside_of_tax_hands_a_pack_out_without_a_word_of_it(
    desk: Desk, client: Browser
) -> None:
    job = job_of("Abel")
    order = make_order(job, lines=(make_line(10_002, rate=0),))
    make_profile(tax_registered=False, tax_number="")
    draft = draft_balance_invoice(order=order, by=desk.by, at=desk.now)
    desk.send(draft.get_absolute_url(), issue="1")
    paid(desk, Invoice.objects.get(draft=draft), "100.02")
    desk.send(
        "/money/purchases/new/",
        supplier="Lens hire",
        what="85 mm",
        kind="EQUIPMENT",
        gross="96",
        paid_from="BANK",
        private_percent="25",
    )
    desk.now = JULY
    desk.refused(f"{BOOKS}close/")
    closed = ClosedPeriod.objects.get()
    desk.send(f"/money/closed/{closed.pk}/share/", name="Ines", days="14")
    code = desk.open(BOOKS).content.decode().split("/p/books/")[1].split("/")[0]

    client.logout()
    page = Markup(client.get(f"/p/books/{code}/").content.decode()).words
    answer = client.post(f"/p/books/{code}/pack/")

    pack = zipfile.ZipFile(io.BytesIO(answer.content))
    assert "tax.csv" not in [*pack.namelist(), *page.split()]
    assert "tax" not in pack.read("summary.txt").decode().casefold()
    assert "tax" not in pack.read("purchases.csv").decode()
    client.force_login(desk.by)
    year = desk.open("/money/years/2026-01-01/")
    # 100.02 came in; 96.00 less the quarter that is private went out.
    assert year.context["year"].profit.minor == 10_002 - 7_200
    assert "VAT" not in Markup(year.content.decode()).words
