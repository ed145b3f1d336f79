"""Selling vouchers and redeeming them."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, datetime
from decimal import Decimal

from django.db import transaction
from django.db.models import Sum

from invoicing.invoices.models import Invoice
from invoicing.payments.models import Method, Payment
from invoicing.payments.operations import (
    PaymentError,
    Receipt,
    Received,
    record_payment,
    write_payment,
)
from invoicing.purchases.sums import tax_inside
from invoicing.vouchers.codes import new_code
from invoicing.vouchers.models import Voucher
from jobs.clients.models import Client
from studio.errors import DomainError
from studio.history.operations import record
from studio.money import Money
from studio.people.models import Person
from studio.profile.models import TaxCategory
from studio.wording import money_words, plain_number


class VoucherError(DomainError):
    """A voucher cannot be sold or redeemed like that."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Gift:
    """What a voucher says: for whom, with which words, until when."""

    given_to: str = ""
    greeting: str = ""
    valid_until_on: date | None = None
    tax_rate_basis_points: int = 0
    """Of one kind of work, taxed at the sale; 0 where its tax comes with invoices."""

    def tax_in(self, minor: int) -> int:
        """Return the tax that the sale brings."""
        return tax_inside(minor, Decimal(self.tax_rate_basis_points) / 100)


@dataclass(frozen=True, slots=True, kw_only=True)
class Redeeming:
    """How much of a voucher goes to which invoice, on which day."""

    invoice_id: int
    amount_minor: int
    on: date
    form_key: str
    honours_expired: bool = False


@transaction.atomic
def sell_voucher(
    *, client_id: int, money: Received, gift: Gift, by: Person, at: datetime
) -> Voucher:
    """Sell a voucher for money that came in. Raises VoucherError, BooksDayError.

    Its tax is due now where its rate is known, else with the invoices that it pays.
    """
    if before := Payment.objects.filter(form_key=money.form_key).first():
        if before.voucher is None:
            raise VoucherError("This form was used for another payment.")
        return before.voucher
    if gift.valid_until_on and gift.valid_until_on <= money.received_on:
        raise VoucherError("The voucher must be good for at least a day.")
    client = Client.objects.get(pk=client_id)
    voucher = Voucher.objects.create(
        client=client,
        code=new_code(),
        given_to=gift.given_to.strip(),
        greeting=gift.greeting.strip(),
        amount_minor=money.amount_minor,
        remaining_minor=money.amount_minor,
        currency=money.currency,
        tax_rate_basis_points=gift.tax_rate_basis_points,
        tax_minor=gift.tax_in(money.amount_minor),
        sold_on=money.received_on,
        valid_until_on=gift.valid_until_on,
        sold_at=at,
        sold_by=by,
    )
    write_payment(replace(money, voucher_id=voucher.pk), client, by=by, at=at)
    record(voucher, "sold", by=by, at=at, data={"amount_minor": money.amount_minor})
    return voucher


@transaction.atomic
def redeem_voucher(
    *, voucher_id: int, wish: Redeeming, by: Person, at: datetime
) -> Receipt:
    """Pay an invoice by a voucher, in whole or in part; never more than is left on it.

    Raises VoucherError, PaymentError, BooksDayError.
    """
    if before := Payment.objects.filter(form_key=wish.form_key).first():
        return Receipt(before)
    voucher = Voucher.objects.get(pk=voucher_id)
    invoice = Invoice.objects.select_related("client").get(pk=wish.invoice_id)
    _check(voucher, invoice, wish)
    receipt = record_payment(
        money=Received(
            amount_minor=wish.amount_minor,
            currency=voucher.currency,
            received_on=wish.on,
            method=Method.VOUCHER,
            reference=str(voucher),
            form_key=wish.form_key,
            voucher_id=voucher.pk,
        ),
        shares={invoice.pk: wish.amount_minor},
        by=by,
        at=at,
    )
    if not Voucher.objects.take(voucher.pk, wish.amount_minor):
        voucher.refresh_from_db(fields=["remaining_minor"])
        raise VoucherError(f"Only {money_words(voucher.remaining)} is left on it.")
    what = "honoured after its day" if voucher.is_over(wish.on) else "redeemed"
    record(voucher, what, by=by, at=at, data={"invoice": invoice.number})
    return receipt


@transaction.atomic
def erase_words(*, voucher_id: int, by: Person, at: datetime, on: date) -> Voucher:
    """Empty for whom a voucher was, and its greeting, once it is spent or over.

    Its sums stay, and so does what was printed and sent before. Raises VoucherError.
    """
    voucher = Voucher.objects.select_for_update().get(pk=voucher_id)
    if not voucher.is_done(on):
        raise VoucherError("It can still be spent. Its words stay until then.")
    if voucher.has_words:
        voucher.given_to = voucher.greeting = ""
        voucher.save(update_fields=["given_to", "greeting"])
        record(voucher, "words erased", by=by, at=at)
    return voucher


def _check(voucher: Voucher, invoice: Invoice, wish: Redeeming) -> None:
    if wish.amount_minor <= 0:
        raise PaymentError("Say how much of the voucher is used.")
    if voucher.currency != invoice.currency:
        raise VoucherError(f"The voucher is in {voucher.currency}.")
    if wish.on < voucher.sold_on:
        raise VoucherError("The voucher was sold later than that.")
    if voucher.tax_minor:
        _check_rate(voucher, invoice, wish.amount_minor)
    if voucher.is_over(wish.on) and not wish.honours_expired:
        raise VoucherError(
            "The voucher’s last day has passed. The owner may honour it all the same."
        )


def _check_rate(voucher: Voucher, invoice: Invoice, minor: int) -> None:
    """See that the invoice has so much at the rate at which the sale was taxed."""
    rate = voucher.tax_rate_basis_points
    rows = invoice.tax_rows.filter(category=TaxCategory.STANDARD)
    rows = rows.filter(rate_basis_points=rate)
    most = sum(row.taxable_minor + row.tax_minor for row in rows)
    before = Payment.objects.standing().filter(
        allocations__invoice=invoice,
        method=Method.VOUCHER,
        voucher__tax_rate_basis_points=rate,
    )
    most -= before.aggregate(total=Sum("amount_minor"))["total"] or 0
    if minor > most:
        at_rate = money_words(Money.from_minor(most, invoice.currency))
        percent = plain_number(voucher.tax_rate)
        raise VoucherError(
            f"The voucher was taxed when it was sold, at {percent}%. {invoice.number} "
            f"has {at_rate} at that rate to pay."
        )
