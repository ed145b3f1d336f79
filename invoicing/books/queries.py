"""The rows of the books, read as plain facts."""

from __future__ import annotations

from collections import defaultdict
from fractions import Fraction
from typing import Any

from invoicing.bank.models import BankLine
from invoicing.books.facts import (
    Facts,
    OwnerFact,
    PaperFact,
    PaymentFact,
    PayoutFact,
    PurchaseFact,
    RateSum,
    ShareMove,
)
from invoicing.books.voucher_tax import Redeemed, shares_of_tax
from invoicing.drawings.models import OwnerMove
from invoicing.invoices.models import Invoice
from invoicing.invoices.states import AHEAD
from invoicing.payments.models import Method, Payment
from invoicing.purchases.models import Purchase
from invoicing.vouchers.models import Voucher
from studio.money import round_minor
from studio.profile.models import StudioProfile, TaxCategory

PERCENT = 100


def read_facts(currency: str) -> Facts:
    """Return all papers, payments and purchases in a currency, in eight queries."""
    return Facts(
        currency=currency,
        papers=tuple(_papers(currency)),
        payments=tuple(_payments(currency)),
        purchases=tuple(_purchases(currency)),
        payouts=tuple(_payouts(currency)),
        own=tuple(_own(currency)),
    )


def currencies_of(own: str) -> list[str]:
    """Return the currencies of papers and payments, the studio's `own` first."""
    used = {
        currency
        for model in (Invoice, Payment)
        for (currency,) in model.objects.order_by().values_list("currency").distinct()
    }
    return [own, *sorted(used - {own})]


def _papers(currency: str) -> list[PaperFact]:
    papers = Invoice.objects.filter(currency=currency).order_by("chain_sequence")
    papers = papers.select_related("client", "corrects").prefetch_related("tax_rows")
    return [_paper(paper) for paper in papers]


def _paper(paper: Invoice) -> PaperFact:
    return PaperFact(
        pk=paper.pk,
        number=paper.number,
        party=paper.snapshot["buyer"]["name"],
        tax_point_on=paper.tax_point_on,
        rows=tuple(
            RateSum(
                category=row.category,
                rate_basis_points=row.rate_basis_points,
                taxable_minor=row.taxable_minor,
                tax_minor=row.tax_minor,
            )
            for row in paper.tax_rows.all()
        ),
        deducted=tuple(map(_deducted, paper.snapshot["content"]["deductions"])),
        is_ahead=paper.purpose in AHEAD,
        corrects=paper.corrects.number if paper.corrects else "",
        due_on=paper.due_on,
        client_id=paper.client.kept_id,
    )


def _deducted(written: dict[str, Any]) -> RateSum:
    return RateSum(
        category=written["category"],
        rate_basis_points=written["tax_rate_basis_points"],
        taxable_minor=written["taxable_minor"],
        tax_minor=written["tax_minor"],
    )


def _payments(currency: str) -> list[PaymentFact]:
    zone = StudioProfile.load().zone
    payments = Payment.objects.filter(currency=currency).order_by("pk")
    payments = payments.select_related("client", "reversal", "voucher")
    found = list(payments.prefetch_related("allocations__invoice"))
    taxed = _voucher_taxes(found)
    return [
        PaymentFact(
            pk=payment.pk,
            party=payment.client.name,
            on=payment.received_on,
            amount_minor=payment.amount_minor,
            rounding_minor=payment.rounding_minor,
            voucher_tax=taxed.get(payment.pk),
            method=payment.method,
            client_id=payment.client.kept_id,
            shares=tuple(
                (one.invoice.number, one.amount_minor)
                for one in payment.allocations.all()
                if one.moved_on is None
            ),
            moves=tuple(
                ShareMove(
                    pk=one.pk,
                    on=one.moved_on,
                    number=one.invoice.number,
                    minor=one.amount_minor,
                )
                for one in payment.allocations.all()
                if one.moved_on is not None
            ),
            voucher=f"Voucher {payment.voucher_id}" if payment.voucher_id else "",
            reversed_on=(
                payment.reversal.reversed_at.astimezone(zone).date()
                if hasattr(payment, "reversal")
                else None
            ),
        )
        for payment in found
    ]


def _voucher_taxes(payments: list[Payment]) -> dict[int, RateSum]:
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


def _payouts(currency: str) -> list[PayoutFact]:
    lines = BankLine.objects.filter(currency=currency, payout_payments__isnull=False)
    return [
        PayoutFact(
            pk=line.pk,
            party=line.party,
            on=line.booked_on,
            amount_minor=line.amount_minor,
        )
        for line in lines.distinct().order_by("pk")
    ]


def _own(currency: str) -> list[OwnerFact]:
    moves = OwnerMove.objects.standing().filter(currency=currency).order_by("pk")
    return [
        OwnerFact(
            pk=move.pk,
            on=move.moved_on,
            amount_minor=move.amount_minor,
            moved_by=move.moved_by,
            note=move.note,
        )
        for move in moves
    ]


def _purchases(currency: str) -> list[PurchaseFact]:
    standing = Purchase.objects.standing().filter(currency=currency).order_by("pk")
    return [purchase_fact(purchase) for purchase in standing]


def purchase_fact(purchase: Purchase) -> PurchaseFact:
    """Return a purchase as the books see it.

    The tax to claim is what was written down with it: a studio outside of tax is not
    asked for it, and what it becomes later changes no period that was closed.
    """
    tax = purchase.tax_minor
    net = purchase.gross_minor - tax
    return PurchaseFact(
        pk=purchase.pk,
        supplier=purchase.supplier,
        kind=purchase.kind,
        bought_on=purchase.bought_on,
        paid_on=purchase.paid_on,
        paid_from=purchase.paid_from,
        net_minor=net,
        tax_minor=tax,
        rate_basis_points=purchase.tax_rate_basis_points if tax else 0,
        private_minor=_share(net, purchase.private_percent),
        private_tax_minor=_share(tax, purchase.private_percent),
    )


def _share(minor: int, percent: int) -> int:
    return round_minor(Fraction(minor * percent, PERCENT), 0)
