"""Selling vouchers and redeeming them."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, datetime

from django.db import transaction

from invoicing.invoices.models import Invoice
from invoicing.payments.models import Method, Payment
from invoicing.payments.operations import (
    PaymentError,
    Receipt,
    Received,
    record_payment,
    write_payment,
)
from invoicing.vouchers.codes import new_code
from invoicing.vouchers.models import Voucher
from jobs.clients.models import Client
from studio.errors import DomainError
from studio.history.operations import record
from studio.people.models import Person
from studio.wording import money_words


class VoucherError(DomainError):
    """A voucher cannot be sold or redeemed like that."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Gift:
    """What a voucher says: for whom, with which words, until when."""

    given_to: str = ""
    greeting: str = ""
    valid_until_on: date | None = None


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
    """Sell a voucher for money that came in. No tax is due yet: the invoice that it
    pays carries it. Raises VoucherError, ClosedPeriodError.
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

    Raises VoucherError, PaymentError, ClosedPeriodError.
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


def _check(voucher: Voucher, invoice: Invoice, wish: Redeeming) -> None:
    if wish.amount_minor <= 0:
        raise PaymentError("Say how much of the voucher is used.")
    if voucher.currency != invoice.currency:
        raise VoucherError(f"The voucher is in {voucher.currency}.")
    if wish.on < voucher.sold_on:
        raise VoucherError("The voucher was sold later than that.")
    if voucher.is_over(wish.on) and not wish.honours_expired:
        raise VoucherError(
            "The voucher’s last day has passed. The owner may honour it all the same."
        )
