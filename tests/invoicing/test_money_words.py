"""What money pages say of law and tax: once where it matters, else not at all."""

import re
from datetime import timedelta

import pytest
from django.test import Client as Browser

from invoicing.books.operations import close_period
from invoicing.invoices.operations import draft_deposit_invoice
from invoicing.owed.models import LateRate
from invoicing.payments.operations import record_payment
from invoicing.periods.calendar import period_of
from invoicing.periods.models import ClosedPeriod
from jobs.clients.models import Client, ClientKind
from studio.people.models import Person
from studio.profile.models import StudioProfile
from tests.invoicing.lists.test_lists import buy
from tests.make import NOON, make_job, make_person, make_profile
from tests.make_invoicing import make_invoice, make_line, make_order, make_received
from tests.studio.markup import Markup

pytestmark = pytest.mark.django_db
LATER = NOON + timedelta(days=30)
CAUTION = "Not tax or legal advice; check local rules"
TAXED = re.compile(r"\btax(?!i)\w*|\bVAT\b", re.IGNORECASE)
WITH_CAUTION = {
    "/money/books/2026-04-01/",
    "/money/owed/rates/",
    "/money/purchases/no-receipt/?chosen={purchase}",
    "/money/invoices/{late}/remind/",
}
ALONE = {"/money/years/2026-01-01/"}
IN_TAX = {"/money/drafts/{draft}/"}
PLAIN = {
    "/money/",
    "/money/?show=all",
    "/money/payments/",
    "/money/purchases/",
    "/money/purchases/new/",
    "/money/purchases/drive/",
    "/money/purchases/{purchase}/",
    "/money/owed/",
    "/money/bank/",
    "/money/books/",
    "/money/own/",
    "/money/own/new/",
    "/money/invoices/{paid}/",
    "/money/invoices/{late}/payment/",
    "/money/invoices/{late}/credit/",
    "/money/drafts/{draft}/received/",
    "/money/closed/{closed}/share/",
    "/money/remind/?invoice={late}",
    "/today/",
}


@pytest.fixture
def ada(monkeypatch: pytest.MonkeyPatch) -> Person:
    make_profile()
    return make_person()


def told(browser: Browser, ada: Person, *, registered: bool) -> dict[str, str]:
    """Fill the books and return the words of each page that there is."""
    line = make_line(10_000, 2000 if registered else 0)
    orders = [make_order(make_job(by=ada), lines=(line,)) for _ in range(2)]
    orders.append(make_order(make_job(by=ada), lines=(line,), deposit_minor=2_500))
    StudioProfile.objects.update(tax_registered=registered)
    late, paid = (make_invoice(order) for order in orders[:2])
    money = make_received(paid.gross_minor)
    record_payment(money=money, shares={paid.pk: paid.gross_minor}, by=ada, at=NOON)
    draft = draft_deposit_invoice(order=orders[2], by=ada, at=NOON)
    assert draft
    LateRate.objects.create(from_on="2026-01-01", basis_points=1_200)
    Client.objects.update(kind=ClientKind.ORGANISATION, email="a@b.example")
    ids = {"late": late.pk, "paid": paid.pk, "draft": draft.pk}
    ids["purchase"] = buy(ada).pk
    span = period_of(NOON.date(), months=3, first_month=1)
    ids["closed"] = close_period(span=span, by=ada, at=LATER).pk
    pages = {}
    for path in WITH_CAUTION | PLAIN | IN_TAX | (ALONE if not registered else set()):
        answer = browser.get(path.format(**ids))
        assert answer.status_code == 200, path
        pages[path] = Markup(answer.content.decode()).words
    return pages


@pytest.mark.parametrize("registered", [True, False])
def test_each_money_page_cautions_once_where_it_matters(
    client: Browser, ada: Person, registered: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("django.utils.timezone.now", lambda: LATER)
    client.force_login(ada)
    pages = told(client, ada, registered=registered)

    wanted = WITH_CAUTION | (IN_TAX if registered else ALONE)
    said = {path: words.count(CAUTION) for path, words in pages.items()}
    assert said == {path: int(path in wanted) for path in pages}
    if registered:
        return
    # The caution itself, and what tax offices ask, are the only words of tax there.
    left = {
        path: TAXED.findall(words.replace(CAUTION, "").replace("tax offices", ""))
        for path, words in pages.items()
    }
    assert {path: words for path, words in left.items() if words} == {}
    assert ClosedPeriod.objects.count() == 1
