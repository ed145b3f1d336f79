"""The rows of the books, read as plain facts."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from datetime import date
from fractions import Fraction
from typing import Any, Final, NamedTuple

from django.db.models import Q, QuerySet, Value
from django.db.models.fields.json import KT, KeyTransform
from django.db.models.functions import Coalesce

from invoicing.bank.models import BankLine
from invoicing.books.bases import Bases
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
from invoicing.books.voucher_facts import voucher_taxes
from invoicing.drawings.models import OwnerMove
from invoicing.invoices.balances import InvoiceBalance
from invoicing.invoices.models import Invoice, TaxRow
from invoicing.invoices.states import AHEAD
from invoicing.payments.balances import PaymentBalance
from invoicing.payments.models import Allocation, Payment
from invoicing.periods.models import ClosedPeriod
from invoicing.purchases.models import Purchase
from jobs.clients.models import Client
from studio.money import round_minor
from studio.profile.models import StudioProfile

PERCENT = 100
PAPER: Final = (
    "pk",
    "number",
    "party",
    "tax_point_on",
    "deducted",
    "purpose",
    "corrected",
    "due_on",
    "kept_id",
)
RATE: Final = ("category", "rate_basis_points", "taxable_minor", "tax_minor")


def read_facts(currency: str) -> Facts:
    """Return all papers, payments and purchases in a currency, in eight queries."""
    return Facts(
        currency=currency,
        papers=tuple(_papers(Invoice.objects.filter(currency=currency))),
        payments=tuple(_payments(Payment.objects.filter(currency=currency))),
        purchases=tuple(_purchases(currency)),
        payouts=tuple(_payouts(currency)),
        own=tuple(_own(currency)),
    )


def account_facts(currency: str, client: Client) -> Facts:
    """Return the papers and payments of one client, and of those merged into it."""
    family = Client.objects.family_of(client.kept_id)
    theirs = Q(currency=currency, client__in=family)
    return _part_of(currency, papers=theirs, payments=theirs)


def facts_moved_after(currency: str, on: date) -> Facts:
    """Return the invoices that something moved after a day, with all that did ever,
    and the payments that something moved after it.
    """
    invoices = InvoiceBalance.objects.filter(currency=currency, last_on__gt=on)
    payments = PaymentBalance.objects.filter(currency=currency, last_on__gt=on)
    shares = Allocation.objects.filter(invoice__in=invoices.values("pk"))
    notes = Invoice.objects.filter(corrects__in=invoices.values("pk")).order_by()
    return _part_of(
        currency,
        papers=Q(pk__in=invoices.values("pk").union(notes.values("pk"))),
        payments=Q(pk__in=payments.values("pk").union(shares.values("payment_id"))),
    )


def _part_of(currency: str, *, papers: Q, payments: Q) -> Facts:
    return Facts(
        currency=currency,
        papers=tuple(_papers(Invoice.objects.filter(papers))),
        payments=tuple(_payments(Payment.objects.filter(payments))),
    )


def bases_now(current: str) -> Bases:
    """Return the bases of tax by day: as periods were closed, then the current one."""
    closed = ClosedPeriod.objects.order_by("ends_on").values_list("ends_on", "figures")
    return Bases.after(closed, current)


def currencies_of(own: str) -> list[str]:
    """Return the currencies of papers and payments, the studio's `own` first."""
    used = {
        currency
        for model in (Invoice, Payment)
        for (currency,) in model.objects.order_by().values_list("currency").distinct()
    }
    return [own, *sorted(used - {own})]


def _papers(found: QuerySet[Invoice]) -> Iterator[PaperFact]:
    """Yield the papers, read as plain values: years of them are summed at once."""
    rates = _rates(found)
    papers = found.annotate(
        party=KT("snapshot__buyer__name"),
        deducted=KeyTransform("deductions", KeyTransform("content", "snapshot")),
        corrected=Coalesce("corrects__number", Value("")),
        kept_id=Coalesce("client__merged_into_id", "client_id"),
    )
    for paper in papers.order_by("chain_sequence").values(*PAPER):
        yield PaperFact(
            pk=paper["pk"],
            number=paper["number"],
            party=paper["party"],
            tax_point_on=paper["tax_point_on"],
            rows=tuple(rates[paper["pk"]]),
            deducted=tuple(map(_deducted, paper["deducted"])),
            is_ahead=paper["purpose"] in AHEAD,
            corrects=paper["corrected"],
            due_on=paper["due_on"],
            client_id=paper["kept_id"],
        )


def _rates(papers: QuerySet[Invoice]) -> dict[int, list[RateSum]]:
    """Return each paper's sums by rate."""
    found: dict[int, list[RateSum]] = defaultdict(list)
    rows = TaxRow.objects.filter(invoice__in=papers.order_by().values("pk"))
    for invoice_id, *values in rows.order_by("pk").values_list("invoice_id", *RATE):
        found[invoice_id].append(RateSum(**dict(zip(RATE, values, strict=True))))
    return found


def _deducted(written: dict[str, Any]) -> RateSum:
    return RateSum(
        category=written["category"],
        rate_basis_points=written["tax_rate_basis_points"],
        taxable_minor=written["taxable_minor"],
        tax_minor=written["tax_minor"],
    )


def _payments(payments: QuerySet[Payment]) -> list[PaymentFact]:
    zone = StudioProfile.load().zone
    joined = payments.select_related("client", "reversal", "voucher")
    found, shares = list(joined.order_by("pk")), _shares(payments)
    taxed = voucher_taxes(found)
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
                (one.number, one.minor) for one in shares[payment.pk] if one.on is None
            ),
            moves=tuple(
                ShareMove(pk=one.pk, on=one.on, number=one.number, minor=one.minor)
                for one in shares[payment.pk]
                if one.on is not None
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


class _Share(NamedTuple):
    """What of a payment is set on an invoice, and since when if not from the first."""

    pk: int
    on: date | None
    number: str
    minor: int


def _shares(payments: QuerySet[Payment]) -> dict[int, list[_Share]]:
    """Return what each payment is set on."""
    found: dict[int, list[_Share]] = defaultdict(list)
    rows = Allocation.objects.filter(payment__in=payments.order_by().values("pk"))
    columns = ("payment_id", "pk", "moved_on", "invoice__number", "amount_minor")
    for payment_id, *values in rows.order_by("pk").values_list(*columns):
        found[payment_id].append(_Share(*values))
    return found


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
