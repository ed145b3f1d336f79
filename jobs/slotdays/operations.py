"""Everything that can be done to a slot day and its sittings."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Final

from django.db import transaction

from jobs.bookings.models import Booking
from jobs.bookings.states import SETTLED, BookingStatus
from jobs.clients.models import Client
from jobs.clients.operations import ClientDetails, add_client
from jobs.clients.queries import same_client
from jobs.jobs.choices import Channel
from jobs.jobs.models import Job
from jobs.jobs.operations import (
    Enquiry,
    close_as_cancelled,
    mark_booked,
    mark_shot,
    open_job,
)
from jobs.jobs.states import JobStage
from jobs.slotdays.letters import News, tell_sitter
from jobs.slotdays.models import Sitting, SlotDay
from studio.errors import DomainError
from studio.history.models import ActorKind
from studio.history.operations import record
from studio.links.models import LinkPurpose, PrivateLink
from studio.links.operations import LASTS, make_link, revoke_links
from studio.people.models import Person
from studio.timespan import TimeSpan

STAYS_OPEN: Final = timedelta(days=1)


class SlotDayError(DomainError):
    """Something cannot be done with a slot day; the reason is fit to show."""


class TakenError(SlotDayError):
    """Somebody else has a time already."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Offer:
    """What one sitting is, what it costs, and until when it may be chosen."""

    title: str
    words: str
    price_minor: int | None
    currency: str
    closes_at: datetime


@dataclass(frozen=True, slots=True, kw_only=True)
class Visitor:
    """Who takes a time."""

    name: str
    phone: str = ""
    email: str = ""
    note: str = ""


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
    day = _locked(day_id)
    for name in Offer.__dataclass_fields__:
        setattr(day, name, getattr(offer, name))
    day.save()
    record(day.booking, "sittings changed", by=by, at=at)
    return day


@transaction.atomic
def open_day(*, day_id: int, by: Person, at: datetime) -> PrivateLink:
    """Let whoever has the day's link take a time. Raises SlotDayError."""
    day = _locked(day_id)
    _refuse_over(day, at=at)
    if not day.booking.is_holding:
        raise SlotDayError(
            "The session holds nothing yet. Pencil it in or confirm it first."
        )
    if not day.is_open:
        day.is_open = True
        day.save(update_fields=["is_open"])
        record(day.booking, "sittings opened", by=by, at=at)
    return link_of_day(day, at=at) or make_link(
        purpose=LinkPurpose.SLOT_DAY, object_id=day.pk, at=at, lasts=_lasts(day, at)
    )


@transaction.atomic
def close_day(*, day_id: int, by: Person, at: datetime) -> SlotDay:
    """Let nobody take a time by the link any more; it says so."""
    day = _locked(day_id)
    if day.is_open:
        day.is_open = False
        day.save(update_fields=["is_open"])
        record(day.booking, "sittings closed", by=by, at=at)
    return day


@transaction.atomic
def add_sitting(*, day_id: int, span: TimeSpan, by: Person, at: datetime) -> Sitting:
    """Add a time within the session. Raises SlotDayError."""
    day = _locked(day_id)
    sitting = _add(day, span)
    record(day.booking, "sitting added", by=by, at=at)
    return sitting


@transaction.atomic
def remove_sitting(*, sitting_id: int, by: Person, at: datetime) -> None:
    """Take a free time out. Raises SlotDayError."""
    sitting = _sitting(sitting_id)
    if not Sitting.objects.filter(pk=sitting_id, job__isnull=True).delete()[0]:
        raise SlotDayError("Somebody has this time; free it first.")
    record(sitting.slot_day.booking, "sitting removed", by=by, at=at)


@transaction.atomic
def keep_back(
    *, sitting_id: int, is_blocked: bool, by: Person, at: datetime
) -> Sitting:
    """Keep a free time back, or offer it again. Raises SlotDayError."""
    sitting = _sitting(sitting_id)
    free = Sitting.objects.filter(pk=sitting_id, job__isnull=True)
    if not free.update(is_blocked=is_blocked):
        raise SlotDayError("Somebody has this time; free it first.")
    verb = "sitting kept back" if is_blocked else "sitting offered again"
    record(sitting.slot_day.booking, verb, by=by, at=at)
    return sitting


@transaction.atomic
def take_sitting(
    *, sitting_id: int, visitor: Visitor, by: Person | None, at: datetime
) -> Sitting:
    """Give a time to somebody: a job of their own, a private page, and a letter.

    `by` is None for whoever takes it by the day's link. Of several who take one time
    at once exactly one has it. Raises SlotDayError, TakenError.
    """
    sitting = _sitting(sitting_id)
    day = sitting.slot_day
    _refuse_over(day, at=at)
    if by is None:
        _refuse_closed(day, at=at)
    if by is None and not day.takes_people:
        raise SlotDayError("No times are given out here now; please ring us.")
    job = open_job(
        client=_client_of(visitor, by=by, at=at),
        enquiry=Enquiry(
            title=day.title[:120],
            wish=visitor.note,
            wished_on=sitting.local_start.date(),
            came_in=Channel.PHONE if by else Channel.FORM,
        ),
        by=by,
        at=at,
        owner=day.booking.job.owner,
    )
    kind = None if by else ActorKind.CLIENT
    mark_booked(job_id=job.pk, by=by, at=at, kind=kind)
    free = Sitting.objects.free().filter(pk=sitting_id)
    if not free.update(job=job, note=visitor.note[:300]):
        raise TakenError("Somebody else took this time just now.")
    sitting.job, sitting.note = job, visitor.note[:300]
    _record(sitting, "sitting taken", by=by, at=at)
    tell_sitter(sitting, page_of(sitting, at=at), news="taken", at=at)
    return sitting


@transaction.atomic
def change_sitting(
    *, sitting_id: int, to_id: int, by: Person | None, at: datetime
) -> Sitting:
    """Move somebody to another free time. Raises SlotDayError, TakenError."""
    old, new = _sitting(sitting_id), _sitting(to_id)
    if by is None:
        _refuse_closed(old.slot_day, at=at)
    if old.job is None or old.slot_day_id != new.slot_day_id:
        raise SlotDayError("There is nobody to move to that time.")
    job, note = old.job, old.note
    held = Sitting.objects.filter(pk=old.pk, job=job)
    if not held.update(job=None, note=""):
        raise SlotDayError("This time was given back meanwhile.")
    if not Sitting.objects.free().filter(pk=new.pk).update(job=job, note=note):
        raise TakenError("Somebody else took this time just now.")
    new.job, new.note = job, note
    _record(new, "sitting changed", by=by, at=at)
    tell_sitter(new, page_of(new, at=at), news="moved", at=at)
    return new


@transaction.atomic
def give_back(
    *, sitting_id: int, because: str, by: Person | None, at: datetime
) -> Sitting:
    """Free somebody's time, and cancel its job. Raises SlotDayError."""
    sitting = _sitting(sitting_id)
    if by is None:
        _refuse_closed(sitting.slot_day, at=at)
    job = sitting.job
    held = Sitting.objects.filter(pk=sitting_id, job=job)
    if job is None or not held.update(job=None, note=""):
        raise SlotDayError("Nobody has this time.")
    revoke_links(purpose=LinkPurpose.SITTING, object_id=job.pk, at=at)
    close_as_cancelled(
        job_id=job.pk,
        because=because,
        by=by,
        at=at,
        kind=None if by else ActorKind.CLIENT,
    )
    if by:
        tell_sitter(sitting, None, news="freed", at=at)
    _record(sitting, "sitting given back", by=by, at=at)
    return sitting


@transaction.atomic
def note_who_came(
    *, day_id: int, sitting_ids: Iterable[int], by: Person, at: datetime
) -> int:
    """Note of some sittings that they happened; return of how many it was news."""
    day = _locked(day_id)
    booked = Job.objects.filter(stage=JobStage.BOOKED, sitting__slot_day=day)
    came = list(booked.filter(sitting__pk__in=list(sitting_ids)))
    for job in came:
        mark_shot(job_id=job.pk, by=by, at=at)
    return len(came)


@transaction.atomic
def tell_everybody(*, day_id: int, by: Person, at: datetime) -> int:
    """Write to all who have a time how the day stands now; nobody is told twice."""
    day = _locked(day_id)
    news: News = "off" if day.booking.status == BookingStatus.CANCELLED else "moved"
    told = 0
    for sitting in day.sittings.taken().select_related("job__client"):
        sitting.slot_day = day
        told += tell_sitter(sitting, page_of(sitting, at=at), news=news, at=at)
    record(day.booking, "sitters written to", by=by, at=at)
    return told


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
        lasts=_lasts(sitting.slot_day, at),
    )


def _lasts(day: SlotDay, at: datetime) -> timedelta:
    return max(day.booking.ends_at + STAYS_OPEN - at, LASTS)


def _add(day: SlotDay, span: TimeSpan) -> Sitting:
    booking = day.booking
    if span.start < booking.starts_at or span.end > booking.ends_at:
        raise SlotDayError("A sitting lies within its session.")
    others = day.sittings.filter(starts_at__lt=span.end, ends_at__gt=span.start)
    if others.exists():
        raise SlotDayError("Another sitting runs then.")
    return Sitting.objects.create(slot_day=day, starts_at=span.start, ends_at=span.end)


def _client_of(visitor: Visitor, *, by: Person | None, at: datetime) -> Client:
    """Return who it is; a number alone is not enough where the mail is another."""
    known = same_client(name="", phone=visitor.phone, email=visitor.email)
    same_mail = known and (not visitor.email or not known.email)
    if known and (same_mail or known.email.casefold() == visitor.email.casefold()):
        return known
    details = ClientDetails(name=visitor.name, phone=visitor.phone, email=visitor.email)
    return add_client(details=details, by=by, at=at)


def _refuse_over(day: SlotDay, *, at: datetime) -> None:
    if day.booking.status in SETTLED or at >= day.booking.ends_at:
        raise SlotDayError("This day is over or called off.")


def _refuse_closed(day: SlotDay, *, at: datetime) -> None:
    _refuse_over(day, at=at)
    if at >= day.closes_at:
        raise SlotDayError("It is too late to change times here; please ring us.")


def _record(sitting: Sitting, verb: str, *, by: Person | None, at: datetime) -> None:
    kind = None if by else ActorKind.CLIENT
    clock = f"{sitting.local_start:%H:%M}"
    data = {"at": clock}
    record(sitting.slot_day.booking, verb, by=by, at=at, kind=kind, data=data)


def _locked(day_id: int) -> SlotDay:
    days = SlotDay.objects.select_related("booking__place", "booking__job__owner")
    return days.select_for_update(of=("self",)).get(pk=day_id)


def _sitting(sitting_id: int) -> Sitting:
    """Return a sitting; a move and a calling-off of its session wait meanwhile."""
    bookings = Booking.objects.filter(slot_day__sittings=sitting_id)
    bookings.select_for_update(of=("self",)).get()
    return Sitting.objects.select_related(
        "slot_day__booking__place", "slot_day__booking__job__owner", "job__client"
    ).get(pk=sitting_id)
