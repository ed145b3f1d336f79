"""Making a checklist from the plan, and ticking it off."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from datetime import datetime

from django.db import transaction

from jobs.bookings.models import Booking
from jobs.kits.models import KitItem
from planning.checklists.models import ChecklistItem, Section
from planning.checklists.need import Need
from planning.checklists.needs import needs_of
from planning.checklists.queries import evening_of
from planning.shoots.planned import PlannedShoot
from planning.shoots.queries import planned_shoot
from studio.history.operations import record
from studio.people.models import Person


@transaction.atomic
def refresh_checklist(
    *, booking: Booking, shoot: PlannedShoot
) -> Sequence[ChecklistItem]:
    """Bring a booking's checklist up to its plan; ticks and own items stay."""
    held = KitItem.objects.filter(reservations__booking=booking).order_by("pk")
    needs = needs_of(shoot, held, evening_of(booking))
    standing = {item.key: item for item in booking.checklist.all()}
    for need in needs:
        _keep(booking, need, standing.pop(need.key, None))
    gone = [item.pk for item in standing.values() if not item.by_hand]
    ChecklistItem.objects.filter(pk__in=gone, ticked_at__isnull=True).delete()
    return list(booking.checklist.all())


@transaction.atomic
def tick_item(*, item_id: int, ticked: bool, by: Person, at: datetime) -> ChecklistItem:
    """Tick an item off, or take the tick back."""
    item = ChecklistItem.objects.select_for_update(of=("self",)).get(pk=item_id)
    if ticked == (item.ticked_at is not None):
        return item
    item.ticked_at = at if ticked else None
    item.ticked_by = by if ticked else None
    item.save(update_fields=["ticked_at", "ticked_by"])
    record(item, "ticked" if ticked else "unticked", by=by, at=at)
    return item


@transaction.atomic
def set_ticks(
    *,
    booking: Booking,
    ticked: Collection[str],
    was: Collection[str],
    by: Person,
    at: datetime,
) -> Sequence[ChecklistItem]:
    """Tick and untick what somebody changed on their page; the rest stays.

    `was` holds the keys that were ticked on that page, so that a tick which somebody
    else made meanwhile is not taken back.
    """
    refresh_checklist(booking=booking, shoot=planned_shoot(booking))
    changed = set(ticked) ^ set(was)
    items = list(booking.checklist.filter(key__in=changed).order_by("pk"))
    return [
        tick_item(item_id=item.pk, ticked=item.key in ticked, by=by, at=at)
        for item in items
    ]


@transaction.atomic
def remove_own_item(*, booking: Booking, key: str, by: Person, at: datetime) -> None:
    """Take something off the list that somebody had added by hand."""
    for item in booking.checklist.filter(key=key, by_hand=True):
        record(item, "removed", by=by, at=at)
        item.delete()


@transaction.atomic
def add_own_item(
    *, booking: Booking, section: Section, words: str, by: Person, at: datetime
) -> ChecklistItem:
    """Add something that no rule knows of."""
    last = booking.checklist.order_by("pk").last()
    count = last.pk + 1 if last else 1
    item = ChecklistItem.objects.create(
        booking=booking,
        key=f"own:{booking.pk}:{int(at.timestamp())}:{count}",
        section=section,
        words=words,
        by_hand=True,
    )
    record(item, "added", by=by, at=at)
    return item


def _keep(booking: Booking, need: Need, item: ChecklistItem | None) -> None:
    values = {
        "section": need.section,
        "words": need.words[:200],
        "reason": need.reason[:300],
        "kit_item_id": need.kit_item_id,
    }
    if item is None:
        ChecklistItem.objects.create(booking=booking, key=need.key, **values)
        return
    if any(getattr(item, name) != value for name, value in values.items()):
        ChecklistItem.objects.filter(pk=item.pk).update(**values)
