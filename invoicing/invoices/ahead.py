"""What of an order was invoiced ahead of its rest: deposits and stages."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from invoicing.invoices.content import Content, ContentLine, Deduction
from invoicing.invoices.models import Invoice, TaxRow
from invoicing.invoices.states import AHEAD
from invoicing.tax import Totals, deposit_split
from jobs.jobs.models import Job
from studio.money import Money, decimal_from_minor, exponent


def invoiced_ahead(job: Job) -> list[Invoice]:
    """Return the job's deposit and stage invoices that stand, at least in part.

    The oldest is first.
    """
    ahead = job.invoices.standing().filter(purpose__in=AHEAD)
    rows = ahead.prefetch_related("tax_rows", "credit_notes__tax_rows")
    return list(rows.order_by("chain_sequence"))


def deductions_of(ahead: Sequence[Invoice]) -> tuple[Deduction, ...]:
    """Return what is left of invoices at each rate, to be taken off."""
    return tuple(
        Deduction(
            number=earlier.number,
            issued_on=earlier.issued_on.isoformat(),
            category=row.category,
            tax_rate_basis_points=row.rate_basis_points,
            taxable_minor=row.taxable_minor - off[0],
            tax_minor=row.tax_minor - off[1],
            purpose=earlier.purpose,
        )
        for earlier in ahead
        for row in earlier.tax_rows.all()
        for off in [_taken_back(earlier, row)]
        if (row.taxable_minor, row.tax_minor) != off
    )


def rest_of_content(content: Content, ahead: Sequence[Invoice]) -> Money:
    """Return what an order comes to without what was invoiced ahead of it."""
    left = replace(content, deductions=deductions_of(ahead)).totals()
    return Money(left.gross, content.currency)


def share_content(content: Content, full: Totals, *, minor: int, what: str) -> Content:
    """Return the content of an invoice for a part of an order, in minor units.

    Over several tax rates it is divided by their gross share of `full`, largest
    remainder first. Raises ValueError for more than `full`, or nothing.
    """
    digits = exponent(content.currency)
    sum_ = decimal_from_minor(minor, digits)
    shares = deposit_split(full=full, deposit_gross=sum_)
    lines = tuple(
        ContentLine(
            description=what,
            quantity_thousandths=int(share.quantity * 1000),
            unit_price_minor=int(share.unit_price.scaleb(digits)),
            tax_rate_basis_points=int(share.rate * 100),
            treatment="" if share.rate else share.category,
        )
        for share in shares
    )
    return Content(
        currency=content.currency,
        price_basis="gross",
        lines=lines,
        reference=content.reference,
    )


def _taken_back(earlier: Invoice, row: TaxRow) -> tuple[int, int]:
    """Return what credit notes took back of one rate of an invoice."""
    same = [
        one
        for note in earlier.credit_notes.all()
        for one in note.tax_rows.all()
        if (one.category, one.rate_basis_points)
        == (row.category, row.rate_basis_points)
    ]
    return sum(one.taxable_minor for one in same), sum(one.tax_minor for one in same)
