"""Recording, changing and taking back what was bought."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import datetime
from typing import Any, Final

from django.db import transaction

from invoicing.periods.operations import hold_books, refuse_closed
from invoicing.purchases.models import Purchase
from studio.errors import DomainError
from studio.files.operations import take_scan
from studio.history.operations import record
from studio.people.models import Person

PAYING: Final = frozenset({"paid_on", "paid_from"})
BUYING: Final = frozenset(
    {
        "kind",
        "bought_on",
        "gross_minor",
        "tax_minor",
        "tax_rate_basis_points",
        "private_percent",
    }
)
ALL: Final = PAYING | BUYING


class PurchaseError(DomainError):
    """A purchase cannot be changed so."""


@transaction.atomic
def record_purchase(
    *, details: Mapping[str, Any], by: Person, at: datetime
) -> Purchase:
    """Record something bought. Raises ClosedPeriodError."""
    hold_books()
    purchase = Purchase(**details, recorded_at=at, recorded_by=by)
    _refuse_closed_days(purchase)
    purchase.save(force_insert=True)
    record(
        purchase, "recorded", by=by, at=at, data={"gross_minor": purchase.gross_minor}
    )
    return purchase


@transaction.atomic
def change_purchase(
    *, purchase_id: int, details: Mapping[str, Any], by: Person, at: datetime
) -> Purchase:
    """Change a purchase of an open period. Raises ClosedPeriodError, PurchaseError."""
    hold_books()
    purchase = _standing(purchase_id)
    changed = [name for name, new in details.items() if getattr(purchase, name) != new]
    if not changed:
        return purchase
    _refuse_closed_days(purchase, changed)
    for name in changed:
        setattr(purchase, name, details[name])
    _refuse_closed_days(purchase, changed)
    purchase.save(update_fields=changed)
    record(purchase, "changed", by=by, at=at, data={"fields": sorted(changed)})
    return purchase


@transaction.atomic
def drop_purchase(
    *, purchase_id: int, because: str, by: Person, at: datetime
) -> Purchase:
    """Take back a purchase written down wrongly; it stays on record.

    Raises ClosedPeriodError, PurchaseError.
    """
    hold_books()
    purchase = _standing(purchase_id)
    _refuse_closed_days(purchase)
    if not because.strip():
        raise PurchaseError("Say what was wrong with it.")
    purchase.dropped_at, purchase.dropped_because = at, because.strip()
    purchase.save(update_fields=["dropped_at", "dropped_because"])
    record(purchase, "taken back", by=by, at=at)
    return purchase


@transaction.atomic
def keep_receipt(
    *, purchase_id: int, content: bytes, by: Person, at: datetime
) -> Purchase:
    """Keep the picture or scan of a receipt, also after its period was closed.

    Raises UnreadableFileError, PurchaseError.
    """
    purchase = _standing(purchase_id)
    name = f"receipt-{purchase.pk}"
    purchase.receipt = take_scan(name=name, content=content, at=at)
    purchase.no_receipt_because = ""
    purchase.save(update_fields=["receipt", "no_receipt_because"])
    record(purchase, "receipt kept", by=by, at=at)
    return purchase


@transaction.atomic
def waive_receipt(
    *, purchase_id: int, because: str, by: Person, at: datetime
) -> Purchase:
    """Say why a purchase needs no receipt. Raises PurchaseError."""
    purchase = _standing(purchase_id)
    if not because.strip():
        raise PurchaseError("Say why it needs no receipt.")
    if not purchase.lacks_receipt:
        raise PurchaseError(f"{purchase} lacks no receipt.")
    purchase.no_receipt_because = because.strip()
    purchase.save(update_fields=["no_receipt_because"])
    record(purchase, "receipt not needed", by=by, at=at)
    return purchase


@transaction.atomic
def expect_receipt(*, purchase_id: int, by: Person, at: datetime) -> Purchase:
    """Expect a receipt after all. Raises PurchaseError."""
    purchase = _standing(purchase_id)
    if purchase.no_receipt_because:
        purchase.no_receipt_because = ""
        purchase.save(update_fields=["no_receipt_because"])
        record(purchase, "receipt expected", by=by, at=at)
    return purchase


def _standing(purchase_id: int) -> Purchase:
    purchase = Purchase.objects.select_for_update().get(pk=purchase_id)
    if purchase.dropped_at:
        raise PurchaseError("This purchase was taken back.")
    return purchase


def _refuse_closed_days(purchase: Purchase, changed: Iterable[str] = ALL) -> None:
    """Refuse a change of what closed figures were made of; paying is a day apart."""
    days = {purchase.paid_on} if PAYING.intersection(changed) else set()
    if BUYING.intersection(changed):
        days.add(purchase.bought_on)
    for day in sorted(filter(None, days)):
        refuse_closed(day, what=f"what {purchase.supplier} sold")
