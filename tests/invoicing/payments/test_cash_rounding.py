"""Cash at the nearest coin settles an invoice, and tax never hears of it.

Coins of 0.05 (Swiss francs) and of a whole krona (Sweden) are common practice, no
source; the guide of Peppol rounds 999.81 to 1000, which leaves 0.19.
"""

import io
from dataclasses import replace
from datetime import timedelta

import pytest
from django.test import Client as Browser
from pypdf import PdfReader

from invoicing.books.accounts import Account
from invoicing.books.bases import RECEIPT
from invoicing.books.journal import balances, entries
from invoicing.books.queries import read_facts
from invoicing.books.tax_summary import tax_summary
from invoicing.invoices.models import Invoice
from invoicing.owed.ageing import account, ages
from invoicing.payments.coins import in_coins
from invoicing.payments.models import Method, Payment
from invoicing.payments.moving import take_off_invoice
from invoicing.payments.operations import (
    PaymentError,
    balance_of,
    record_payment,
    reverse_payment,
)
from invoicing.periods.calendar import Span
from invoicing.years.figures import year_figures
from studio.profile.models import StudioProfile
from tests.make import NOON, make_person, make_profile
from tests.make_invoicing import TODAY, make_invoice, make_received

YEAR = Span(TODAY.replace(month=1, day=1), TODAY.replace(month=12, day=31))


@pytest.mark.parametrize(
    ("minor", "coin", "rounded"),
    [
        (10_002, 5, 10_000),
        (10_003, 5, 10_005),
        (10_007, 5, 10_005),
        (10_008, 5, 10_010),
        (99_981, 100, 100_000),
        (10_050, 100, 10_100),
        (-10_050, 100, -10_100),
        (10_049, 100, 10_000),
        (10_005, 10, 10_010),
        (10_002, 0, 10_002),
    ],
)
def test_the_nearest_coin_half_away_from_nothing(
    minor: int, coin: int, rounded: int
) -> None:
    assert in_coins(minor, coin) == rounded


def with_coin(coin: int = 5, currency: str = "GBP") -> Invoice:
    invoice = make_invoice()
    make_profile(cash_coin_minor=coin, cash_coin_currency=currency)
    return invoice


def pay(invoice: Invoice, minor: int, share: int, method: Method) -> Payment:
    return record_payment(
        money=replace(make_received(minor), method=method),
        shares={invoice.pk: share},
        by=make_person(),
        at=NOON,
    ).payment


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("coin", "cash", "off"), [(5, 10_000, 2), (10, 10_000, 2), (100, 10_000, 2)]
)
def test_cash_settles_all_and_the_rest_has_its_own_account(
    coin: int, cash: int, off: int
) -> None:
    # 100.02 at 20% holds 16.67 tax, whatever the coins.
    invoice = with_coin(coin)

    payment = pay(invoice, cash, 10_002, Method.CASH)

    facts = read_facts("GBP")
    held = balances(entries(facts))
    assert (payment.rounding_minor, balance_of(invoice)) == (off, 0)
    assert (held[Account.CASH], held[Account.ROUNDING]) == (cash, off)
    assert (held[Account.RECEIVABLE], held[Account.OUTPUT_TAX]) == (0, -1_667)
    summary = tax_summary(facts, basis=RECEIPT, first=TODAY, last=TODAY)
    assert summary.output_minor == 1_667
    assert ages(facts, TODAY) == []
    mine = account(facts, invoice.client.kept_id, first=TODAY, last=TODAY)
    assert mine.closing_minor == 0
    assert not Payment.objects.loose().exists()
    assert year_figures(facts, YEAR).income_minor == cash

    by = make_person()
    with pytest.raises(PaymentError, match="whole payment back"):
        take_off_invoice(
            payment_id=payment.pk,
            invoice_id=invoice.pk,
            on=TODAY + timedelta(days=1),
            because="Wrong",
            by=by,
            at=NOON,
        )
    reverse_payment(payment_id=payment.pk, because="Wrong", by=by, at=NOON)
    assert balance_of(invoice) == 10_002
    assert balances(entries(read_facts("GBP")))[Account.ROUNDING] == 0


@pytest.mark.django_db
def test_what_came_beyond_is_rounding_too_and_not_on_account() -> None:
    # 60.00 paid before by transfer leaves 40.02; then 0.01 more leaves 40.01; in
    # coins of 0.05 that is 40.00. From 40.03 it is 40.05: two cents more than owed.
    invoice = with_coin()
    pay(invoice, 5_999, 5_999, Method.TRANSFER)

    payment = pay(invoice, 4_005, 4_003, Method.CASH)

    held = balances(entries(read_facts("GBP")))
    assert (payment.rounding_minor, balance_of(invoice)) == (-2, 0)
    assert (held[Account.ROUNDING], held[Account.RECEIVABLE]) == (-2, 0)
    assert Account.ON_ACCOUNT not in held
    assert not Payment.objects.loose().exists()


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("coin", "currency", "method"),
    [
        (0, "", Method.CASH),
        (5, "CHF", Method.CASH),
        (5, "GBP", Method.TRANSFER),
        (5, "GBP", Method.CARD),
    ],
)
def test_nothing_is_rounded_without_the_setting_or_the_cash(
    coin: int, currency: str, method: Method
) -> None:
    invoice = with_coin(coin, currency)

    with pytest.raises(PaymentError, match="add up to more"):
        pay(invoice, 10_000, 10_002, method)
    pay(invoice, 10_000, 10_000, method)

    assert balance_of(invoice) == 2


@pytest.mark.django_db
def test_the_page_says_what_settles_it_and_the_receipt_shows_the_rest(
    client: Browser,
) -> None:
    invoice = with_coin()
    client.force_login(make_person())
    path = f"/money/invoices/{invoice.pk}/payment/"
    sent = {
        "amount": "100.00",
        "received_on": TODAY.isoformat(),
        "method": "CASH",
        "form_key": "cash-1",
    }

    asked = client.get(path).content.decode()
    told = client.post(path, sent, follow=True).content.decode()

    payment = Payment.objects.get()
    page = client.get(payment.get_absolute_url()).content.decode()
    paper = client.get(f"{payment.get_absolute_url()}receipt.pdf").content
    words = " ".join(PdfReader(io.BytesIO(paper)).pages[0].extract_text().split())
    assert "In cash, £100.00 settles it" in asked
    assert "Cash rounding: £0.02. The invoice is settled." in told
    assert "Cash rounding" in page
    assert "Take off" not in page
    assert "Cash rounding -£0.02" in words.replace("\u2212", "-")
    assert "Received £100.00" in words


@pytest.mark.django_db
def test_a_year_outside_of_tax_counts_what_came(client: Browser) -> None:
    invoice = with_coin()
    pay(invoice, 10_000, 10_002, Method.CASH)
    make_profile(tax_registered=False)
    client.force_login(make_person())

    year = client.get("/money/years/2026-01-01/").content.decode()
    figure = client.get("/money/years/2026-01-01/rounding/")

    assert "Cash rounding" in year
    assert ">100.00<" in year
    assert figure.status_code == 200


@pytest.mark.django_db
def test_the_coin_is_set_for_the_currency_of_the_day(client: Browser) -> None:
    make_profile()
    client.force_login(make_person())
    path = "/settings/books/"
    sent = {
        "period_months": "3",
        "period_first_month": "1",
        "tax_basis": "ACCRUAL",
        "distance_unit": "mile",
        "rate": "",
    }

    refused = client.post(path, sent | {"coin": "50"}).content.decode()
    client.post(path, sent | {"coin": "0.05"})
    kept = StudioProfile.load()
    client.post(path, sent | {"coin": ""})

    assert "more than a small coin" in refused
    assert (kept.cash_coin_minor, kept.cash_coin_currency) == (5, "GBP")
    assert StudioProfile.load().cash_coin_minor == 0
