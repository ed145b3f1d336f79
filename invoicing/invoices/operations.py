"""Drafting invoices: what may still change, before a number is taken."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from django.db import transaction

from invoicing.invoices.ahead import deductions_of, invoiced_ahead, share_content
from invoicing.invoices.content import Content, ContentLine, Order
from invoicing.invoices.models import Invoice, InvoiceDraft
from invoicing.invoices.states import FINAL, Purpose
from invoicing.invoices.treatments import settled
from jobs.jobs.models import Job
from studio.errors import DomainError
from studio.history.models import ActorKind
from studio.history.operations import record
from studio.people.models import Person
from studio.profile.models import StudioProfile


class DraftError(DomainError):
    """A draft is not fit for what is asked of it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DraftChange:
    """What may be changed in a draft."""

    lines: tuple[ContentLine, ...]
    due_days: int
    note: str
    treatment: str = ""
    simplified: bool = False


class StaleDraftError(DomainError):
    """A draft was changed by somebody else meanwhile."""


@transaction.atomic
def draft_deposit_invoice(
    *, order: Order, by: Person | None, at: datetime, kind: ActorKind | None = None
) -> InvoiceDraft | None:
    """Draft the deposit's invoice of an order; None where no deposit is asked.

    A deposit over several tax rates is divided by gross share. An open draft of an
    earlier version of the order is dropped.
    """
    if order.deposit_minor <= 0:
        return None
    drop_drafts(job_id=order.job_id, by=by, at=at)
    order = treated_order(order)
    content = share_content(
        order.content,
        order.content.totals(),
        minor=order.deposit_minor,
        what=f"Deposit on {order.content.reference}",
    )
    return write_draft(order, Purpose.DEPOSIT, content, by=by, at=at, kind=kind)


@transaction.atomic
def draft_balance_invoice(*, order: Order, by: Person, at: datetime) -> InvoiceDraft:
    """Draft what is left of an order after its deposits and stages, per tax rate.

    Without any it is the whole sum. Raises DraftError where it was drafted or
    invoiced before, or a stage is drafted.
    """
    job = Job.objects.select_for_update().get(pk=order.job_id)
    if standing := job.invoices.standing().filter(purpose__in=FINAL).first():
        raise DraftError(f"The rest was invoiced before, with {standing.number}.")
    purposes = {draft.purpose for draft in open_drafts(job)}
    if purposes.intersection(FINAL):
        raise DraftError("The invoice for the rest stands drafted already.")
    if Purpose.STAGE in purposes:
        raise DraftError("A stage stands drafted. Issue it or drop it first.")
    ahead = invoiced_ahead(job)
    order = treated_order(order, like=ahead)
    content = replace(order.content, deductions=deductions_of(ahead))
    purpose = Purpose.BALANCE if ahead else Purpose.WHOLE
    return write_draft(order, purpose, content, by=by, at=at)


@transaction.atomic
def change_draft(
    *, draft_id: int, change: DraftChange, version: int, by: Person, at: datetime
) -> InvoiceDraft:
    """Change a draft. Raises StaleDraftError, DraftError."""
    draft = _open_draft(draft_id)
    if draft.version != version:
        raise StaleDraftError("Somebody else changed this draft meanwhile.")
    content = _changed(draft.read_content, change)
    draft.content = content.to_json()
    draft.due_days, draft.note = change.due_days, change.note
    draft.simplified = change.simplified
    draft.version += 1
    draft.save()
    record(draft, "changed", by=by, at=at)
    return draft


@transaction.atomic
def drop_drafts(*, job_id: int, by: Person | None, at: datetime) -> int:
    """Drop the open deposit drafts of a job; a drop keeps the row."""
    drafts = InvoiceDraft.objects.filter(
        job_id=job_id,
        purpose=Purpose.DEPOSIT,
        dropped_at__isnull=True,
        invoice__isnull=True,
    )
    return drafts.update(dropped_at=at)


@transaction.atomic
def drop_draft(*, draft_id: int, by: Person, at: datetime) -> InvoiceDraft:
    """Drop one open draft. Raises DraftError."""
    draft = _open_draft(draft_id)
    draft.dropped_at = at
    draft.save(update_fields=["dropped_at"])
    record(draft, "dropped", by=by, at=at)
    return draft


def open_drafts(job: Job) -> list[InvoiceDraft]:
    """Return the job's drafts that were neither issued nor dropped."""
    drafts = job.invoice_drafts.filter(dropped_at__isnull=True, invoice__isnull=True)
    return list(drafts.order_by("written_at", "pk"))


def treated_order(order: Order, *, like: Sequence[Invoice] = ()) -> Order:
    """Return an order whose lines say how they are taxed, as was done ahead of it."""
    profile = StudioProfile.load()
    if not profile.tax_registered:
        return order
    before = {str(one.snapshot["content"].get("treatment", "")) for one in like}
    treatment = before.pop() if len(before) == 1 else ""
    lines = settled(order.content.lines, treatment=treatment, profile=profile)
    content = replace(order.content, lines=lines, treatment=treatment)
    return replace(order, content=content)


def _changed(content: Content, change: DraftChange) -> Content:
    profile, lines = StudioProfile.load(), change.lines
    if profile.tax_registered:
        lines = settled(lines, treatment=change.treatment, profile=profile)
    return replace(content, lines=lines, treatment=change.treatment)


def write_draft(
    order: Order,
    purpose: Purpose,
    content: Content,
    *,
    by: Person | None,
    at: datetime,
    kind: ActorKind | None = None,
) -> InvoiceDraft:
    """Write a draft of an order down, and the journal's line."""
    days = order.deposit_days if purpose == Purpose.DEPOSIT else order.payment_days
    draft = InvoiceDraft.objects.create(
        job_id=order.job_id,
        purpose=purpose,
        content=content.to_json(),
        due_days=days,
        written_at=at,
    )
    record(draft, "drafted", by=by, at=at, kind=kind)
    return draft


def _open_draft(draft_id: int) -> InvoiceDraft:
    draft = InvoiceDraft.objects.select_for_update(of=("self",)).get(pk=draft_id)
    if draft.is_issued:
        raise DraftError(f"This draft was issued as {draft.invoice.number}.")
    if draft.dropped_at:
        raise DraftError("This draft was dropped.")
    return draft
