"""What payments hold of vouchers that were taxed at their sale."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable

from invoicing.books.facts import RateSum
from invoicing.books.voucher_tax import Redeemed, shares_of_tax
from invoicing.payments.models import Method, Payment
from invoicing.vouchers.models import Voucher
from studio.profile.models import TaxCategory


def voucher_taxes(payments: Iterable[Payment]) -> dict[int, RateSum]:
    """Return what each payment holds of a voucher that was taxed at its sale."""
    parts: dict[Voucher, list[Redeemed]] = defaultdict(list)
    taxes: dict[int, RateSum] = {}
    for payment in payments:
        voucher = payment.voucher
        if voucher is None or not voucher.tax_minor:
            continue
        if payment.method == Method.VOUCHER:
            parts[voucher].append(_redeemed(payment))
        else:
            tax = voucher.tax_minor
            taxes[payment.pk] = _held(voucher, voucher.amount_minor, tax)
    for voucher, redeemed in parts.items():
        shares = shares_of_tax(voucher.amount_minor, voucher.tax_minor, redeemed)
        for part in redeemed:
            tax = shares[part.payment_id]
            taxes[part.payment_id] = _held(voucher, part.minor, tax)
    return taxes


def _held(voucher: Voucher, minor: int, tax: int) -> RateSum:
    return RateSum(
        category=TaxCategory.STANDARD,
        rate_basis_points=voucher.tax_rate_basis_points,
        taxable_minor=minor - tax,
        tax_minor=tax,
    )


def _redeemed(payment: Payment) -> Redeemed:
    is_back = hasattr(payment, "reversal")
    return Redeemed(
        payment_id=payment.pk,
        minor=payment.amount_minor,
        at=payment.recorded_at,
        back_at=payment.reversal.reversed_at if is_back else None,
    )
