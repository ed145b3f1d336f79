"""Ticking kit back after a session."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from django.db import transaction

from jobs.bookings.models import Booking
from jobs.kits.models import KitItem, Trouble
from jobs.kits.operations import report_trouble
from jobs.returns.models import CameBack, KitReturn
from studio.errors import DomainError
from studio.history.operations import record
from studio.people.models import Person


class NotTakenError(DomainError):
    """An item was ticked back that the session did not take."""


@dataclass(frozen=True, slots=True)
class Back:
    """How an item came back, and what is to be said of it."""

    state: CameBack
    note: str = ""


@transaction.atomic
def tick_kit_back(
    *, booking_id: int, items: Mapping[int, Back], by: Person, at: datetime
) -> list[KitReturn]:
    """Write down how items came back; what is missing or damaged is out of use.

    Only what changed is written. Raises NotTakenError.
    """
    booking = Booking.objects.select_for_update().get(pk=booking_id)
    taken = KitItem.objects.filter(reservations__booking=booking)
    if set(items) - set(taken.values_list("pk", flat=True)):
        raise NotTakenError("This session’s kit was changed meanwhile. Look again.")
    standing = {row.item_id: row for row in booking.kit_returns.all()}
    changed = [
        _tick(booking, item_id, back, standing.get(item_id), (by, at))
        for item_id, back in sorted(items.items())
        if not _stands(standing.get(item_id), back)
    ]
    if changed:
        said = {str(row.item_id): row.state for row in changed}
        record(booking, "kit ticked back", by=by, at=at, data=said)
    return changed


def _stands(row: KitReturn | None, back: Back) -> bool:
    return row is not None and (row.state, row.note) == (back.state, back.note)


def _tick(
    booking: Booking,
    item_id: int,
    back: Back,
    row: KitReturn | None,
    ticked: tuple[Person, datetime],
) -> KitReturn:
    by, at = ticked
    row = row or KitReturn(booking=booking, item_id=item_id)
    row.state, row.note = back.state, back.note
    row.ticked_by, row.ticked_at = by, at
    row.save()
    if back.state != CameBack.RETURNED:
        report_trouble(
            item_id=item_id,
            trouble=Trouble(back.state),
            note=back.note,
            by=by,
            at=at,
        )
    return row
