"""Vouchers: sold, redeemed, never for more than they hold."""

import io
from dataclasses import replace
from datetime import date, timedelta

import pytest
from django.db import IntegrityError, transaction
from django.test import Client as Browser
from pypdf import PdfReader
from pytest_django import DjangoAssertNumQueries

from invoicing.books.accounts import Account
from invoicing.books.bases import RECEIPT
from invoicing.books.journal import balances, entries, within
from invoicing.books.queries import read_facts
from invoicing.books.tax_summary import tax_summary
from invoicing.owed.ageing import ages
from invoicing.payments.models import Payment
from invoicing.payments.operations import PaymentError, balance_of, reverse_payment
from invoicing.vouchers.models import Voucher
from invoicing.vouchers.operations import (
    Gift,
    Redeeming,
    VoucherError,
    redeem_voucher,
    sell_voucher,
)
from invoicing.vouchers.queries import off_balance, outstanding
from studio.money import Money
from tests.make import NOON, make_client, make_person, make_profile
from tests.make_invoicing import TODAY, make_invoice, make_received

pytestmark = pytest.mark.django_db
LATER = TODAY + timedelta(days=5)


@pytest.fixture
def browser(client: Browser) -> Browser:
    client.force_login(make_person())
    return client


def sold(
    minor: int = 15_000, *, until: date | None = None, currency: str = "GBP"
) -> Voucher:
    make_profile()
    gift = Gift(given_to="Oma Brigid", greeting="With love.", valid_until_on=until)
    return sell_voucher(
        client_id=make_client().pk,
        money=replace(make_received(minor), currency=currency),
        gift=gift,
        by=make_person(),
        at=NOON,
    )


def redeem(voucher: Voucher, invoice_id: int, minor: int, **more: bool) -> Payment:
    wish = Redeeming(
        invoice_id=invoice_id,
        amount_minor=minor,
        on=LATER,
        form_key=f"redeem-{Payment.objects.count()}",
        **more,
    )
    return redeem_voucher(
        voucher_id=voucher.pk, wish=wish, by=make_person(), at=NOON
    ).payment


def test_two_invoices_share_a_voucher_and_no_penny_more() -> None:
    voucher, one, two = sold(), make_invoice(), make_invoice()

    redeem(voucher, one.pk, 10_002)
    with (
        pytest.raises(VoucherError, match=r"Only £49\.98 is left"),
        transaction.atomic(),
    ):
        redeem(voucher, two.pk, 4_999)
    redeem(voucher, two.pk, 4_998)

    voucher.refresh_from_db()
    assert voucher.remaining_minor == 0
    assert (balance_of(one), balance_of(two)) == (0, 5_004)
    assert Payment.objects.count() == 3


def test_the_database_refuses_a_voucher_below_nothing() -> None:
    voucher = sold()

    with pytest.raises(IntegrityError), transaction.atomic():
        Voucher.objects.filter(pk=voucher.pk).update(remaining_minor=-1)
    assert not Voucher.objects.take(voucher.pk, 15_001)


def test_one_that_is_over_is_refused_unless_it_is_honoured() -> None:
    voucher, invoice = sold(until=TODAY + timedelta(days=4)), make_invoice()

    with pytest.raises(VoucherError, match="last day has passed"):
        redeem(voucher, invoice.pk, 100)
    redeem(voucher, invoice.pk, 100, honours_expired=True)

    assert balance_of(invoice) == 9_902


def test_only_an_owner_honours_one_that_is_over(client: Browser) -> None:
    voucher, invoice = sold(until=TODAY + timedelta(days=4)), make_invoice()
    client.force_login(make_person(hats="bookkeeper"))
    sent = {
        "code": voucher.code,
        "amount": "1.00",
        "on": LATER.isoformat(),
        "honours_expired": "on",
        "form_key": "h-1",
    }

    answer = client.post(f"/money/invoices/{invoice.pk}/voucher/", sent)

    assert "last day has passed" in answer.content.decode()
    assert balance_of(invoice) == 10_002


def test_the_list_asks_the_database_as_often_for_many(
    django_assert_num_queries: DjangoAssertNumQueries,
) -> None:
    for minor in (1_000, 2_000, 3_000):
        sold(minor)

    with django_assert_num_queries(3):  # the studio, payments, vouchers
        found = outstanding(on=TODAY, own="GBP")["GBP"]

    assert (len(found.rows), found.total.minor) == (3, 6_000)


def test_vouchers_of_each_currency_are_listed_and_summed_apart(
    browser: Browser,
) -> None:
    pounds, euros = sold(1_000), sold(2_000, currency="EUR")
    sold(500, currency="EUR")

    own = browser.get("/money/vouchers/")
    other = browser.get("/money/vouchers/?currency=EUR")
    before = browser.get(
        "/money/vouchers/", {"on": f"{TODAY - timedelta(days=1)}", "currency": "EUR"}
    )

    assert [tab.sum for tab in own.context["tabs"]] == [
        Money.from_minor(1_000, "GBP"),
        Money.from_minor(2_500, "EUR"),
    ]
    assert [row.voucher for row in own.context["found"].rows] == [pounds]
    assert "£10.00 could still be redeemed" in own.content.decode()
    assert [row.voucher.pk for row in other.context["found"].rows] == [
        euros.pk + 1,
        euros.pk,
    ]
    assert "€25.00 could still be redeemed" in other.content.decode()
    # Nothing was sold by then, so there is nothing to choose from.
    assert before.context["tabs"] == []
    assert "No voucher was sold by then." in before.content.decode()


def test_the_books_owe_what_the_list_says_on_every_day() -> None:
    # 150.00 sold; 60.00 of it pays a part of 100.02, of which 16.67 is tax at 20%.
    voucher, invoice = sold(), make_invoice()
    redeem(voucher, invoice.pk, 6_000)
    facts = read_facts("GBP")

    for on, left in ((TODAY, 15_000), (LATER, 9_000)):
        held = balances(within(entries(facts), TODAY, on))
        assert outstanding(on=on, own="GBP")["GBP"].total.minor == left
        assert held[Account.VOUCHERS] == -left
        owed = sum(client.balance_minor for client in ages(facts, on))
        assert held[Account.RECEIVABLE] + held.get(Account.ON_ACCOUNT, 0) == owed
    assert held[Account.BANK] == 15_000
    assert held[Account.RECEIVABLE] == 4_002
    # By receipts, its tax counts when it is redeemed: 16.67 x 60 / 100.02 = 10.00.
    at_sale = tax_summary(facts, basis=RECEIPT, first=TODAY, last=TODAY)
    later = tax_summary(facts, basis=RECEIPT, first=LATER, last=LATER)
    assert (at_sale.output_minor, later.output_minor) == (0, 1_000)
    assert off_balance() == []


def test_what_is_taken_back_stands_on_the_voucher_again() -> None:
    voucher, invoice, by = sold(), make_invoice(), make_person()
    payment = redeem(voucher, invoice.pk, 6_000)
    sale = voucher.payments.exclude(pk=payment.pk).get()

    with pytest.raises(PaymentError, match="was redeemed"):
        reverse_payment(payment_id=sale.pk, because="Wrong", by=by, at=NOON)
    reverse_payment(payment_id=payment.pk, because="Wrong invoice", by=by, at=NOON)
    voucher.refresh_from_db()
    assert (voucher.remaining_minor, balance_of(invoice)) == (15_000, 10_002)
    reverse_payment(payment_id=sale.pk, because="Not paid", by=by, at=NOON)

    voucher.refresh_from_db()
    assert voucher.remaining_minor == 0
    assert outstanding(on=LATER, own="GBP")["GBP"].total.minor == 0
    assert off_balance() == []


def test_the_card_shows_its_code_and_says_that_it_is_no_invoice(
    browser: Browser,
) -> None:
    voucher = sold(until=LATER)

    answer = browser.get(f"/money/vouchers/{voucher.pk}/voucher.pdf")

    (page,) = PdfReader(io.BytesIO(answer.content)).pages
    words = " ".join(page.extract_text().split())
    assert voucher.spoken_code in words
    assert "Oma Brigid" in words
    assert "no tax invoice" in words
    # A5 across is 210 x 148 mm (ISO 216).
    assert [round(float(side) / 72 * 25.4) for side in page.mediabox[2:]] == [210, 148]


def test_a_misread_code_gets_its_sentence_and_a_right_one_pays(
    browser: Browser,
) -> None:
    voucher, invoice = sold(), make_invoice()
    path = f"/money/invoices/{invoice.pk}/voucher/"
    sent = {
        "code": "O123",
        "amount": "60.00",
        "on": LATER.isoformat(),
        "form_key": "v-1",
    }

    refused = browser.post(path, sent).content.decode()
    for _ in range(2):
        browser.post(path, sent | {"code": voucher.spoken_code.lower()})

    assert "holds no 1 or O" in refused
    assert 'value="60.00"' in refused
    assert balance_of(invoice) == 4_002
    assert browser.get("/money/vouchers/").status_code == 200
    assert browser.get(voucher.get_absolute_url()).status_code == 200
