"""What Today shows of kit: what is out of order, and what service is due."""

from __future__ import annotations

from datetime import date, datetime, timedelta
from typing import Literal

from django.db.models import Q

from jobs.bookings.models import Reservation
from jobs.kits.models import KitItem, Trouble
from studio.panels import TodayItem, on_today
from studio.people.models import Person
from studio.profile.models import StudioProfile
from studio.wording import day_short, day_year

SERVICE_AHEAD = timedelta(days=30)


@on_today(action="kit.edit")
def kit_out_of_order(person: Person, at: datetime) -> list[TodayItem]:
    """Give the items that are missing, damaged or due for service."""
    on = at.astimezone(StudioProfile.load().zone).date()
    due = Q(service_due_on__lte=on + SERVICE_AHEAD)
    found = KitItem.objects.in_use().filter(~Q(trouble="") | due)
    return [
        _in_trouble(item, at) if item.trouble else _to_service(item, on)
        for item in found.order_by("service_due_on", "name", "pk")[:20]
    ]


def _in_trouble(item: KitItem, at: datetime) -> TodayItem:
    wanted = Reservation.objects.filter(kit_item=item, starts_at__gt=at)
    live = wanted.exclude(booking__status="CANCELLED").order_by("starts_at")
    waits = live.select_related("booking__job", "booking__place").first()
    words = [f"{item.get_trouble_display()}: {item.trouble_note or 'no note'}."]
    if waits and waits.booking:
        start = waits.booking.local_start
        day = day_short(start)
        words.append(f"{waits.booking.job.title} on {day} needs it.")
    return TodayItem(
        group="today",
        title=f"{'Find' if item.trouble == Trouble.MISSING else 'Repair'} {item}",
        reason=" ".join(words),
        url=item.get_absolute_url(),
        verb="Open item",
        icon="alert",
    )


def _to_service(item: KitItem, on: date) -> TodayItem:
    due = item.service_due_on or on
    group: Literal["late", "soon"] = "late" if due < on else "soon"
    was = "was" if due < on else "is"
    return TodayItem(
        group=group,
        title=f"Have {item} serviced",
        reason=f"Service {was} due on {day_year(due)}.",
        url=item.get_absolute_url(),
        verb="Open item",
        icon="box",
        due_on=due,
    )
