"""Reminders of several late invoices at once: what may go, and why another may not."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from invoicing.invoices.models import Invoice
from invoicing.invoices.states import Standing
from invoicing.owed.queries import Chase, chase_of


@dataclass(frozen=True, slots=True)
class Prepared:
    """The reminders that may go, and a sentence for each that may not."""

    chases: Sequence[Chase]
    refused: Sequence[str]


def prepare(invoice_ids: Iterable[int], *, on: date) -> Prepared:
    """Look at each invoice: only a late one whose client has an address is reminded."""
    chases: list[Chase] = []
    refused: list[str] = []
    for invoice in Invoice.objects.filter(pk__in=invoice_ids).order_by("due_on", "pk"):
        chase = None if invoice.is_credit_note else chase_of(invoice.pk, on=on)
        if why := _refusal(invoice, chase):
            refused.append(why)
        elif chase:
            chases.append(chase)
    return Prepared(chases, refused)


def _refusal(invoice: Any, chase: Chase | None) -> str:
    if invoice.is_credit_note:
        return f"{invoice.number} is a credit note: nobody owes it."
    if chase is None:
        return f"{invoice.number} has nothing open."
    if chase.row.standing is not Standing.LATE:
        return f"{invoice.number} is not late yet: {chase.row.standing_words.lower()}."
    if not chase.invoice.client.email:
        return f"{invoice.number}: {chase.invoice.client} has no e-mail address."
    return ""
