"""Builders of the money side."""

from datetime import date
from itertools import count

from invoicing.invoices.content import Content, ContentLine, Order
from invoicing.invoices.issuing import issue_invoice
from invoicing.invoices.models import Invoice
from invoicing.invoices.operations import draft_balance_invoice
from invoicing.payments.operations import Received
from invoicing.tax import PriceBasis
from jobs.jobs.models import Job
from studio.people.models import Person
from tests.make import NOON, make_job, make_profile

_next = count(1)
TODAY = NOON.date()


def make_line(
    price_minor: int = 10_002, rate: int = 2000, **fields: object
) -> ContentLine:
    values = {"description": "Session", "quantity_thousandths": 1000} | fields
    return ContentLine(
        unit_price_minor=price_minor,
        tax_rate_basis_points=rate,
        **values,  # type: ignore[arg-type]
    )


def make_order(
    job: Job | None = None,
    *,
    lines: tuple[ContentLine, ...] = (),
    deposit_minor: int = 0,
    price_basis: PriceBasis = "gross",
) -> Order:
    make_profile()
    job = job or make_job()
    content = Content(
        currency="GBP",
        price_basis=price_basis,
        lines=lines or (make_line(),),
        reference="Q-2026-001",
    )
    return Order(
        job_id=job.pk,
        content=content,
        deposit_minor=deposit_minor,
        deposit_days=7,
        payment_days=14,
    )


def make_invoice(order: Order | None = None, *, by: Person | None = None) -> Invoice:
    order = order or make_order()
    by = by or Job.objects.get(pk=order.job_id).owner
    draft = draft_balance_invoice(order=order, by=by, at=NOON)
    return issue_invoice(draft_id=draft.pk, by=by, at=NOON)


def make_received(amount_minor: int, received_on: date = TODAY) -> Received:
    return Received(
        amount_minor=amount_minor,
        currency="GBP",
        received_on=received_on,
        form_key=f"form-{next(_next)}",
    )
