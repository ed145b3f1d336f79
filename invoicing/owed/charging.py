"""Interest and a fixed sum for late payment, drafted as an invoice of its own.

Proposed, never charged by itself: the draft is read and issued as any other. It stands
outside the scope of tax (Court of Justice, case C-222/81); a studio that is told
otherwise chooses another treatment in the draft.
"""

from __future__ import annotations

from datetime import date, datetime
from typing import Any, Final

from django.db import transaction
from django.db.models import Q

from invoicing.invoices.content import Content, ContentLine
from invoicing.invoices.models import Invoice, InvoiceDraft
from invoicing.invoices.operations import DraftError
from invoicing.invoices.states import Purpose
from invoicing.owed.queries import Owing, owing_of
from jobs.jobs.models import Job
from studio.history.operations import record
from studio.people.models import Person
from studio.profile.models import StudioProfile, TaxCategory
from studio.wording import long_date

LONGEST_DETAIL: Final = 400


def charge_of(invoice: Invoice) -> InvoiceDraft | None:
    """Return the draft that charges late payment of an invoice, issued or not.

    One that was dropped, or taken back as a whole by credit notes, stands no more.
    """
    gone = Q(invoice__isnull=False) & ~Q(invoice__in=Invoice.objects.standing())
    drafts = InvoiceDraft.objects.filter(charges_for=invoice, dropped_at__isnull=True)
    return drafts.exclude(gone).select_related("invoice").first()


@transaction.atomic
def draft_charge(
    *, invoice_id: int, on: date, by: Person, at: datetime
) -> InvoiceDraft:
    """Draft an invoice for what late payment has come to by a day.

    Raises DraftError where nothing is proposed, or it was drafted before.
    """
    invoice: Any = Invoice.objects.select_related("client", "job").get(pk=invoice_id)
    Job.objects.select_for_update().get(pk=invoice.job_id)
    if charge_of(invoice):
        raise DraftError(f"Late payment of {invoice.number} was charged before.")
    owing = owing_of(invoice, on=on)
    if owing is None:
        raise DraftError(f"Nothing can be charged for {invoice.number}.")
    draft = InvoiceDraft.objects.create(
        job=invoice.job,
        purpose=Purpose.CHARGE,
        charges_for=invoice,
        content=_content(invoice, owing).to_json(),
        due_days=StudioProfile.load().payment_days,
        written_at=at,
    )
    record(draft, "drafted", by=by, at=at, data={"charges_for": invoice.number})
    return draft


def _content(invoice: Invoice, owing: Owing) -> Content:
    lines = [
        _line(
            f"Interest on invoice {invoice.number}, due {long_date(invoice.due_on)}",
            owing.interest.minor,
            detail=_working(owing),
        )
    ]
    if owing.fixed.minor:
        said = f"Fixed sum for late payment of invoice {invoice.number}"
        lines.append(_line(said, owing.fixed.minor))
    return Content(
        currency=invoice.currency,
        price_basis="net",
        lines=tuple(lines),
        treatment=TaxCategory.OUTSIDE,
    )


def _working(owing: Owing) -> str:
    said = "; ".join(owing.working)
    return said if len(said) <= LONGEST_DETAIL else f"{owing.interest.days} days"


def _line(description: str, minor: int, *, detail: str = "") -> ContentLine:
    return ContentLine(
        description=description,
        detail=detail,
        quantity_thousandths=1000,
        unit_price_minor=minor,
        treatment=TaxCategory.OUTSIDE,
    )
