"""What operations on slot days share: refusals, locked rows, and private links."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import Final

from jobs.bookings.models import Booking
from jobs.bookings.states import SETTLED
from jobs.slotdays.models import Sitting, SlotDay
from studio.errors import DomainError
from studio.links.models import LinkPurpose, PrivateLink
from studio.links.operations import LASTS, make_link

STAYS_OPEN: Final = timedelta(days=1)


class SlotDayError(DomainError):
    """Something cannot be done with a slot day; the reason is fit to show."""


class TakenError(SlotDayError):
    """Somebody else has a time already."""


def refuse_over(day: SlotDay, *, at: datetime) -> None:
    """Refuse what is done to a day that is over or called off."""
    if day.booking.status in SETTLED or at >= day.booking.ends_at:
        raise SlotDayError("This day is over or called off.")


def refuse_closed(day: SlotDay, *, at: datetime) -> None:
    """Refuse what a visitor does once times are not to be changed any more."""
    refuse_over(day, at=at)
    if at >= day.closes_at:
        raise SlotDayError("It is too late to change times here; please ring us.")


def locked_day(day_id: int) -> SlotDay:
    """Return a day with its place, locked until the transaction ends."""
    days = SlotDay.objects.select_related("booking__place", "booking__job__owner")
    return days.select_for_update(of=("self",)).get(pk=day_id)


def locked_sitting(sitting_id: int) -> Sitting:
    """Return a sitting; a move and a calling-off of its session wait meanwhile."""
    bookings = Booking.objects.filter(slot_day__sittings=sitting_id)
    bookings.select_for_update(of=("self",)).get()
    return Sitting.objects.select_related(
        "slot_day__booking__place", "slot_day__booking__job__owner", "job__client"
    ).get(pk=sitting_id)


def link_of_day(day: SlotDay, *, at: datetime) -> PrivateLink | None:
    """Return the live link of a day."""
    live = PrivateLink.objects.of(LinkPurpose.SLOT_DAY, day.pk).live(at=at)
    return live.order_by("-pk").first()


def page_of(sitting: Sitting, *, at: datetime) -> PrivateLink:
    """Return the private link of somebody's sitting, made where there is none."""
    job = sitting.job_id
    if job is None:
        raise ValueError("a free time has no page")
    live = PrivateLink.objects.of(LinkPurpose.SITTING, job).live(at=at)
    return live.order_by("-pk").first() or make_link(
        purpose=LinkPurpose.SITTING,
        object_id=job,
        at=at,
        lasts=lasts_for(sitting.slot_day, at),
    )


def lasts_for(day: SlotDay, at: datetime) -> timedelta:
    """Return how long a link to a day or a time of it lives."""
    return max(day.booking.ends_at + STAYS_OPEN - at, LASTS)
