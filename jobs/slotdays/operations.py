"""Everything that can be done to a slot day and its sittings."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from django.db import transaction

from jobs.bookings.models import Booking
from jobs.bookings.states import SETTLED, BookingStatus
from jobs.jobs.models import Job
from jobs.jobs.operations import (
    mark_shot,
)
from jobs.jobs.states import JobStage
from jobs.slotdays.letters import News, tell_sitter
from jobs.slotdays.models import Sitting, SlotDay
from jobs.slotdays.rows import (
    SlotDayError,
    lasts_for,
    link_of_day,
    locked_day,
    locked_sitting,
    page_of,
    refuse_over,
)
from studio.history.operations import record
from studio.links.models import LinkPurpose, PrivateLink
from studio.links.operations import make_link
from studio.people.models import Person
from studio.timespan import TimeSpan


@dataclass(frozen=True, slots=True, kw_only=True)
class Offer:
    """What one sitting is, what it costs, and until when it may be chosen."""

    title: str
    words: str
    price_minor: int | None
    currency: str
    closes_at: datetime


@transaction.atomic
def make_slot_day(
    *,
    booking_id: int,
    offer: Offer,
    times: Iterable[TimeSpan],
    by: Person,
    at: datetime,
) -> SlotDay:
    """Offer a session in sittings. Raises SlotDayError."""
    booking = Booking.objects.select_for_update().get(pk=booking_id)
    if booking.status in SETTLED:
        raise SlotDayError("The session is over or called off.")
    if SlotDay.objects.filter(booking=booking).exists():
        raise SlotDayError("This session is a slot day already.")
    day = SlotDay.objects.create(
        booking=booking,
        title=offer.title,
        words=offer.words,
        price_minor=offer.price_minor,
        currency=offer.currency,
        closes_at=offer.closes_at,
    )
    for span in times:
        _add(day, span)
    if not day.sittings.exists():
        raise SlotDayError("No sitting fits into the session.")
    record(booking, "offered in sittings", by=by, at=at)
    return day


@transaction.atomic
def change_offer(*, day_id: int, offer: Offer, by: Person, at: datetime) -> SlotDay:
    """Change what a sitting is; those who have a time keep what they agreed to."""
    day = locked_day(day_id)
    for name in Offer.__dataclass_fields__:
        setattr(day, name, getattr(offer, name))
    day.save()
    record(day.booking, "sittings changed", by=by, at=at)
    return day


@transaction.atomic
def open_day(*, day_id: int, by: Person, at: datetime) -> PrivateLink:
    """Let whoever has the day's link take a time. Raises SlotDayError."""
    day = locked_day(day_id)
    refuse_over(day, at=at)
    if not day.booking.is_holding:
        raise SlotDayError(
            "The session holds nothing yet. Pencil it in or confirm it first."
        )
    if not day.is_open:
        day.is_open = True
        day.save(update_fields=["is_open"])
        record(day.booking, "sittings opened", by=by, at=at)
    return link_of_day(day, at=at) or make_link(
        purpose=LinkPurpose.SLOT_DAY, object_id=day.pk, at=at, lasts=lasts_for(day, at)
    )


@transaction.atomic
def close_day(*, day_id: int, by: Person, at: datetime) -> SlotDay:
    """Let nobody take a time by the link any more; it says so."""
    day = locked_day(day_id)
    if day.is_open:
        day.is_open = False
        day.save(update_fields=["is_open"])
        record(day.booking, "sittings closed", by=by, at=at)
    return day


@transaction.atomic
def add_sitting(*, day_id: int, span: TimeSpan, by: Person, at: datetime) -> Sitting:
    """Add a time within the session. Raises SlotDayError."""
    day = locked_day(day_id)
    sitting = _add(day, span)
    record(day.booking, "sitting added", by=by, at=at)
    return sitting


@transaction.atomic
def remove_sitting(*, sitting_id: int, by: Person, at: datetime) -> None:
    """Take a free time out. Raises SlotDayError."""
    sitting = locked_sitting(sitting_id)
    if not Sitting.objects.filter(pk=sitting_id, job__isnull=True).delete()[0]:
        raise SlotDayError("Somebody has this time; free it first.")
    record(sitting.slot_day.booking, "sitting removed", by=by, at=at)


@transaction.atomic
def keep_back(
    *, sitting_id: int, is_blocked: bool, by: Person, at: datetime
) -> Sitting:
    """Keep a free time back, or offer it again. Raises SlotDayError."""
    sitting = locked_sitting(sitting_id)
    free = Sitting.objects.filter(pk=sitting_id, job__isnull=True)
    if not free.update(is_blocked=is_blocked):
        raise SlotDayError("Somebody has this time; free it first.")
    verb = "sitting kept back" if is_blocked else "sitting offered again"
    record(sitting.slot_day.booking, verb, by=by, at=at)
    return sitting


@transaction.atomic
def note_who_came(
    *, day_id: int, sitting_ids: Iterable[int], by: Person, at: datetime
) -> int:
    """Note of some sittings that they happened; return of how many it was news."""
    day = locked_day(day_id)
    booked = Job.objects.filter(stage=JobStage.BOOKED, sitting__slot_day=day)
    came = list(booked.filter(sitting__pk__in=list(sitting_ids)))
    for job in came:
        mark_shot(job_id=job.pk, by=by, at=at)
    return len(came)


@transaction.atomic
def tell_everybody(*, day_id: int, by: Person, at: datetime) -> int:
    """Write to all who have a time how the day stands now; nobody is told twice."""
    day = locked_day(day_id)
    news: News = "off" if day.booking.status == BookingStatus.CANCELLED else "moved"
    told = 0
    for sitting in day.sittings.taken().select_related("job__client"):
        sitting.slot_day = day
        told += tell_sitter(sitting, page_of(sitting, at=at), news=news, at=at)
    record(day.booking, "sitters written to", by=by, at=at)
    return told


def _add(day: SlotDay, span: TimeSpan) -> Sitting:
    booking = day.booking
    if span.start < booking.starts_at or span.end > booking.ends_at:
        raise SlotDayError("A sitting lies within its session.")
    others = day.sittings.filter(starts_at__lt=span.end, ends_at__gt=span.start)
    if others.exists():
        raise SlotDayError("Another sitting runs then.")
    return Sitting.objects.create(slot_day=day, starts_at=span.start, ends_at=span.end)
