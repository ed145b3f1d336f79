"""Stages: a part of a long job that is invoiced before the rest."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from django.db import transaction

from invoicing.invoices.ahead import (
    deductions_of,
    invoiced_ahead,
    rest_of_content,
    share_content,
)
from invoicing.invoices.content import Order
from invoicing.invoices.models import InvoiceDraft
from invoicing.invoices.operations import DraftError, treated_order, write_draft
from invoicing.invoices.states import FINAL, Purpose
from jobs.jobs.models import Job
from studio.money import Money
from studio.people.models import Person
from studio.wording import money_words


@transaction.atomic
def draft_stage_invoice(
    *, order: Order, minor: int, what: str, by: Person, at: datetime
) -> InvoiceDraft:
    """Draft an invoice for a part of an order, with tax, in minor units.

    It is divided over the tax rates of what was not invoiced yet; the invoice for the
    rest takes it off again. Raises DraftError.
    """
    job = Job.objects.select_for_update().get(pk=order.job_id)
    if why_not := why_no_stage(job):
        raise DraftError(why_not)
    ahead = invoiced_ahead(job)
    order = treated_order(order, like=ahead)
    rest = rest_of_content(order.content, ahead)
    if minor <= 0:
        raise DraftError("A stage comes to something.")
    if minor >= rest.minor:
        raise DraftError(
            f"A stage is less than the {money_words(rest)} that is not invoiced yet. "
            "For all of it, draft the invoice for the rest."
        )
    left = replace(order.content, deductions=deductions_of(ahead)).totals()
    content = share_content(order.content, left, minor=minor, what=what.strip())
    return write_draft(order, Purpose.STAGE, content, by=by, at=at)


def rest_to_stage(order: Order, job: Job) -> Money:
    """Return what of an order was not invoiced yet."""
    return rest_of_content(order.content, invoiced_ahead(job))


def why_no_stage(job: Job) -> str:
    """Return why no stage of a job can be drafted, nothing where one can."""
    final = job.invoices.standing().filter(purpose__in=FINAL).first()
    if final:
        return f"The rest was invoiced before, with {final.number}."
    drafts = job.invoice_drafts.filter(dropped_at__isnull=True, invoice__isnull=True)
    if drafts.filter(purpose__in=FINAL).exists():
        return "The invoice for the rest stands drafted. Drop it first."
    if drafts.filter(purpose=Purpose.STAGE).exists():
        return "A stage stands drafted already. Issue it or drop it first."
    return ""
