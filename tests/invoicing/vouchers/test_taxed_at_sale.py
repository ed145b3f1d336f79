"""Vouchers for one kind of work: taxed when they are sold, and not a second time.

The rule is that of Directive (EU) 2016/1065, articles 30a and 30b (from memory); the
figures are worked by hand.
"""

from datetime import timedelta

import pytest
from django.test import Client as Browser

from invoicing.books.accounts import Account
from invoicing.books.bases import ACCRUAL, RECEIPT
from invoicing.books.facts import Facts
from invoicing.books.journal import balances, entries, within
from invoicing.books.queries import read_facts
from invoicing.books.tax_summary import tax_summary
from invoicing.books.voucher_tax import Redeemed, shares_of_tax
from invoicing.invoices.models import Invoice
from invoicing.payments.models import Payment
from invoicing.payments.operations import reverse_payment
from invoicing.vouchers.models import Voucher
from invoicing.vouchers.operations import (
    Gift,
    Redeeming,
    VoucherError,
    redeem_voucher,
    sell_voucher,
)
from tests.make import NOON, make_client, make_person, make_profile
from tests.make_invoicing import (
    TODAY,
    make_invoice,
    make_line,
    make_order,
    make_received,
)

LATER = TODAY + timedelta(days=5)


def sold(minor: int = 12_000) -> Voucher:
    make_profile()
    return sell_voucher(
        client_id=make_client("Nora Fenn").pk,
        money=make_received(minor),
        gift=Gift(tax_rate_basis_points=2_000),
        by=make_person(),
        at=NOON,
    )


def redeem(voucher: Voucher, invoice: Invoice, minor: int) -> Payment:
    wish = Redeeming(
        invoice_id=invoice.pk,
        amount_minor=minor,
        on=LATER,
        form_key=f"taxed-{Payment.objects.count()}",
    )
    by = make_person()
    return redeem_voucher(voucher_id=voucher.pk, wish=wish, by=by, at=NOON).payment


def output(facts: Facts, basis: str, *, to_later: bool) -> int:
    last = LATER if to_later else TODAY
    return tax_summary(facts, basis=basis, first=TODAY, last=last).output_minor


def test_parts_hold_the_tax_of_the_sale_to_the_cent() -> None:
    # 100.00 at 20% holds 16.67. A third of it each: 5.56, then 11.11 less 5.56, then
    # 16.67 less 11.11.
    hours = [NOON + timedelta(hours=hour) for hour in range(5)]
    thirds = [
        Redeemed(payment_id=one, minor=minor, at=hours[one])
        for one, minor in ((1, 3_333), (2, 3_333), (3, 3_334))
    ]

    assert shares_of_tax(10_000, 1_667, thirds) == {1: 556, 2: 555, 3: 556}


def test_a_part_taken_back_gives_its_tax_to_the_next_one() -> None:
    hours = [NOON + timedelta(hours=hour) for hour in range(5)]
    parts = [
        Redeemed(payment_id=1, minor=3_333, at=hours[1], back_at=hours[3]),
        Redeemed(payment_id=2, minor=3_333, at=hours[2]),
        Redeemed(payment_id=3, minor=6_667, at=hours[4]),
    ]

    shares = shares_of_tax(10_000, 1_667, parts)

    assert shares[2] + shares[3] == 1_667


@pytest.mark.django_db
def test_its_tax_is_due_at_the_sale_and_not_again() -> None:
    # Sold for 120.00 at 20%: 20.00 tax, 100.00 owed as work. An invoice over 120.00
    # names 20.00 of tax; redeemed in two parts of 60.00, each takes 10.00 out again.
    voucher = sold()
    at_sale = read_facts("GBP")
    held = balances(entries(at_sale))
    assert (held[Account.BANK], held[Account.VOUCHERS]) == (12_000, -10_000)
    assert held[Account.OUTPUT_TAX] == -2_000
    for basis in (ACCRUAL, RECEIPT):
        assert output(at_sale, basis, to_later=False) == 2_000

    invoice = make_invoice(make_order(lines=(make_line(12_000),)))
    first = redeem(voucher, invoice, 6_000)
    redeem(voucher, invoice, 6_000)

    facts = read_facts("GBP")
    held = balances(entries(facts))
    assert (held[Account.SALES], held[Account.OUTPUT_TAX]) == (-10_000, -2_000)
    assert (held[Account.VOUCHERS], held[Account.RECEIVABLE]) == (0, 0)
    for basis in (ACCRUAL, RECEIPT):
        assert output(facts, basis, to_later=True) == 2_000
    # By receipt the sale's day alone has tax; what is redeemed later adds nothing.
    assert output(facts, RECEIPT, to_later=False) == 2_000

    by, at = make_person(), NOON + (LATER - TODAY)
    reverse_payment(payment_id=first.pk, because="Wrong", by=by, at=at)
    held = balances(within(entries(read_facts("GBP")), TODAY, LATER))
    assert (held[Account.VOUCHERS], held[Account.RECEIVABLE]) == (-5_000, 6_000)
    # 20.00 at the sale, 20.00 on the invoice, 10.00 out with the part that stands.
    assert held[Account.OUTPUT_TAX] == -3_000


@pytest.mark.django_db
def test_it_pays_only_what_was_taxed_at_its_rate() -> None:
    voucher = sold()
    lines = (make_line(5_000), make_line(7_000, rate=500))
    invoice = make_invoice(make_order(lines=lines))

    with pytest.raises(VoucherError, match=r"at 20%\. .* has £50\.00 at that rate"):
        redeem(voucher, invoice, 5_001)
    redeem(voucher, invoice, 4_000)
    with pytest.raises(VoucherError, match=r"has £10\.00 at that rate"):
        redeem(voucher, invoice, 1_001)


@pytest.mark.django_db
def test_the_sale_asks_for_a_rate_only_in_a_studio_that_charges_tax(
    client: Browser,
) -> None:
    make_profile()
    buyer = make_client("Nora Fenn")
    client.force_login(make_person())
    sent = {
        "client": str(buyer.pk),
        "amount": "99.99",
        "received_on": TODAY.isoformat(),
        "method": "CARD",
        "rate": "20",
        "form_key": "sale-1",
    }

    asked = client.get("/money/vouchers/new/").content.decode()
    client.post("/money/vouchers/new/", sent)
    voucher = Voucher.objects.get()
    page = client.get(voucher.get_absolute_url()).content.decode()
    listed = client.get(
        f"/money/books/{TODAY.replace(month=4, day=1)}/"
    ).content.decode()
    make_profile(tax_registered=False)
    outside = client.get("/money/vouchers/new/").content.decode()

    # 99.99 at 20% has no net in whole cents: 16.67 of it is tax (16.665, half up).
    assert (voucher.tax_minor, voucher.tax_rate_basis_points) == (1_667, 2_000)
    assert "VAT known at the sale" in asked
    assert 'name="rate"' not in outside
    assert "At 20%, due at its sale" in page
    assert str(voucher) in listed
