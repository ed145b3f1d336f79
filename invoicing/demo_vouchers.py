"""The demo's vouchers, and money that came without an invoice."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import Final

from invoicing.invoices.models import Invoice
from invoicing.payments.models import Method
from invoicing.payments.operations import Received, record_payment
from invoicing.payments.receipts import keep_receipt
from invoicing.vouchers.models import Voucher
from invoicing.vouchers.operations import Gift, Redeeming, redeem_voucher, sell_voucher
from jobs.clients.models import Client, ClientKind
from studio.demo import Scenery

TWO_YEARS: Final = timedelta(days=730)
REDEEMED_MINOR: Final = 6_000


def tell_of_vouchers(scenery: Scenery) -> None:
    """Sell two vouchers, redeem a part of one, and take money on account.

    The second is for a newborn sitting, so its tax is due when it is sold.
    """
    scenery.then(-20, "11:10", lambda at: _sell(scenery, at, 15_000, _FIRST))
    scenery.then(-6, "15:40", lambda at: _sell(scenery, at, 9_000, _SECOND, 2_000))
    scenery.then(-2, "10:05", lambda at: _redeem(scenery, at))
    scenery.then(-2, "10:20", lambda at: _on_account(scenery, at))


_FIRST: Final = ("Oma Brigid", "Seventy candles, one picture. With love from us all.")
_SECOND: Final = ("Tomasz and Wren", "For the three of you, when you have slept.")


def _sell(
    scenery: Scenery, at: datetime, minor: int, words: tuple[str, str], rate: int = 0
) -> None:
    given_to, greeting = words
    families = Client.objects.standing().filter(kind=ClientKind.PERSON)
    buyer = families.exclude(email="").order_by("pk")[0]
    sell_voucher(
        client_id=buyer.pk,
        money=_received(scenery, f"voucher-{minor}", minor, at, Method.CARD),
        gift=Gift(
            given_to=given_to,
            greeting=greeting,
            valid_until_on=at.date() + TWO_YEARS,
            tax_rate_basis_points=rate,
        ),
        by=scenery.rows["maren"],
        at=at,
    )


def _redeem(scenery: Scenery, at: datetime) -> None:
    voucher = Voucher.objects.order_by("pk")[0]
    invoice = Invoice.objects.unsettled().order_by("-gross_minor", "pk").first()
    if invoice is None:
        return
    wish = Redeeming(
        invoice_id=invoice.pk,
        amount_minor=REDEEMED_MINOR,
        on=at.date(),
        form_key="demo-redeemed",
    )
    redeem_voucher(voucher_id=voucher.pk, wish=wish, by=scenery.rows["edda"], at=at)


def _on_account(scenery: Scenery, at: datetime) -> None:
    invoice = Invoice.objects.unsettled().order_by("due_on", "pk").first()
    if invoice is None:
        return
    receipt = record_payment(
        money=_received(scenery, "on-account", 4_000, at, Method.CASH),
        shares={},
        client=invoice.client,
        by=scenery.rows["edda"],
        at=at,
    )
    keep_receipt(payment_id=receipt.payment.pk, at=at)


def _received(
    scenery: Scenery, key: str, minor: int, at: datetime, method: Method
) -> Received:
    return Received(
        amount_minor=minor,
        currency=scenery.rows["profile"].currency,
        received_on=at.date(),
        method=method,
        form_key=f"demo-{key}",
    )
