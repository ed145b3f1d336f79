"""What a job paid for each hour that was noted on it."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from invoicing.invoices.models import Invoice
from invoicing.purchases.models import Purchase
from invoicing.quotes.queries import accepted_order
from jobs.jobs.models import Job
from studio.money import Money


@dataclass(frozen=True, slots=True, kw_only=True)
class HourlyPay:
    """A job's price without tax, what was bought for it, and what is left an hour."""

    net: Money
    costs: Money
    hourly: Money
    is_invoiced: bool


def hourly_pay(job: Job, *, minutes: int) -> HourlyPay | None:
    """Return what a job pays an hour: by its papers, or by the yes where none is out.

    Credit notes and what was bought for the job are taken off, private shares not
    counted. Tax that the studio hands on is not income; tax that it cannot claim back
    is a cost. None where no time is noted, or nothing agreed.
    """
    if minutes < 1:
        return None
    invoiced = _invoiced(job)
    net = _agreed(job) if invoiced is None else invoiced
    if net is None:
        return None
    costs = _costs(job, net.currency)
    hourly = Money.rounded(Fraction((net - costs).amount) * 60 / minutes, net.currency)
    is_invoiced = invoiced is not None
    return HourlyPay(net=net, costs=costs, hourly=hourly, is_invoiced=is_invoiced)


def _invoiced(job: Job) -> Money | None:
    papers = list(Invoice.objects.filter(job=job))
    if not papers:
        return None
    total = sum(
        -one.net_minor if one.is_credit_note else one.net_minor for one in papers
    )
    return Money.from_minor(total, papers[0].currency)


def _agreed(job: Job) -> Money | None:
    order = accepted_order(job_id=job.pk)
    if order is None:
        return None
    return Money(order.content.totals().net, order.content.currency)


def _costs(job: Job, currency: str) -> Money:
    bought = Purchase.objects.standing().filter(job=job, currency=currency)
    total = Fraction(0)
    for one in bought:
        paid = one.gross_minor - one.tax_minor
        total += Fraction(paid * (100 - one.private_percent), 100)
    return Money.from_minor(round(total), currency)
