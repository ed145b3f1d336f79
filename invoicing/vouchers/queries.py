"""Vouchers as lists and pages show them."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from datetime import date

from invoicing.payments.models import Method, Payment
from invoicing.vouchers.models import Voucher
from studio.money import Money
from studio.profile.models import StudioProfile


@dataclass(frozen=True, slots=True, kw_only=True)
class VoucherRow:
    """One voucher on a day."""

    voucher: Voucher
    left: Money
    is_over: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Outstanding:
    """The vouchers in one currency sold by a day, and what was left on them then."""

    on: date
    rows: tuple[VoucherRow, ...]
    total: Money


def outstanding(*, on: date, own: str) -> dict[str, Outstanding]:
    """Return all vouchers sold by a day with what was left on them at its end.

    By currency, the studio's `own` first, even without a voucher. In two queries. A
    voucher whose sale was taken back by then is worth nothing.
    """
    left = _left(on)
    rows: dict[str, list[VoucherRow]] = {own: []}
    sold = Voucher.objects.filter(sold_on__lte=on)
    for voucher in sold.select_related("client"):
        row = VoucherRow(
            voucher=voucher,
            left=Money.from_minor(left[voucher.pk], voucher.currency),
            is_over=voucher.is_over(on),
        )
        rows.setdefault(voucher.currency, []).append(row)
    return {
        currency: Outstanding(
            on=on,
            rows=tuple(rows[currency]),
            total=Money.from_minor(
                sum(row.left.minor for row in rows[currency]), currency
            ),
        )
        for currency in [own, *sorted(rows.keys() - {own})]
    }


def redemptions(voucher: Voucher) -> list[Payment]:
    """Return what was redeemed of a voucher, the oldest first."""
    paid = voucher.payments.filter(method=Method.VOUCHER).select_related("reversal")
    return list(paid.with_shares().order_by("pk"))


def sale_of(voucher: Voucher) -> Payment:
    """Return the payment that the voucher was bought with."""
    sales = voucher.payments.exclude(method=Method.VOUCHER)
    return sales.select_related("reversal").get()


def off_balance() -> list[Voucher]:
    """Return the vouchers that hold something else than their payments say."""
    standing: dict[int, int] = defaultdict(int)
    paid = Payment.objects.standing().filter(voucher__isnull=False)
    for payment in paid:
        standing[payment.voucher_id or 0] += _worth(payment)
    return [
        voucher
        for voucher in Voucher.objects.all()
        if voucher.remaining_minor != standing[voucher.pk]
    ]


def _left(on: date) -> dict[int, int]:
    zone = StudioProfile.load().zone
    left: dict[int, int] = defaultdict(int)
    paid = Payment.objects.filter(voucher__isnull=False, received_on__lte=on)
    for payment in paid.select_related("reversal"):
        if hasattr(payment, "reversal"):
            back_on = payment.reversal.reversed_at.astimezone(zone).date()
            if back_on <= on:
                continue
        left[payment.voucher_id or 0] += _worth(payment)
    return left


def _worth(payment: Payment) -> int:
    is_spent = payment.method == Method.VOUCHER
    return -payment.amount_minor if is_spent else payment.amount_minor
