"""Giving a time to somebody, moving them, and taking it back."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from django.db import transaction

from jobs.clients.models import Client
from jobs.clients.operations import ClientDetails, add_client
from jobs.clients.queries import same_client
from jobs.jobs.choices import Channel
from jobs.jobs.operations import (
    Enquiry,
    close_as_cancelled,
    mark_booked,
    open_job,
)
from jobs.slotdays.letters import tell_sitter
from jobs.slotdays.models import Sitting
from jobs.slotdays.rows import (
    SlotDayError,
    TakenError,
    locked_sitting,
    page_of,
    refuse_closed,
    refuse_over,
)
from studio.history.models import ActorKind
from studio.history.operations import record
from studio.links.models import LinkPurpose
from studio.links.operations import revoke_links
from studio.people.models import Person


@dataclass(frozen=True, slots=True, kw_only=True)
class Visitor:
    """Who takes a time."""

    name: str
    phone: str = ""
    email: str = ""
    note: str = ""


@transaction.atomic
def take_sitting(
    *, sitting_id: int, visitor: Visitor, by: Person | None, at: datetime
) -> Sitting:
    """Give a time to somebody: a job of their own, a private page, and a letter.

    `by` is None for whoever takes it by the day's link. Of several who take one time
    at once exactly one has it. Raises SlotDayError, TakenError.
    """
    sitting = locked_sitting(sitting_id)
    day = sitting.slot_day
    refuse_over(day, at=at)
    if by is None:
        refuse_closed(day, at=at)
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
    old, new = locked_sitting(sitting_id), locked_sitting(to_id)
    if by is None:
        refuse_closed(old.slot_day, at=at)
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
    sitting = locked_sitting(sitting_id)
    if by is None:
        refuse_closed(sitting.slot_day, at=at)
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


def _client_of(visitor: Visitor, *, by: Person | None, at: datetime) -> Client:
    """Return who it is; a number alone is not enough where the mail is another."""
    known = same_client(name="", phone=visitor.phone, email=visitor.email)
    same_mail = known and (not visitor.email or not known.email)
    if known and (same_mail or known.email.casefold() == visitor.email.casefold()):
        return known
    details = ClientDetails(name=visitor.name, phone=visitor.phone, email=visitor.email)
    return add_client(details=details, by=by, at=at)


def _record(sitting: Sitting, verb: str, *, by: Person | None, at: datetime) -> None:
    kind = None if by else ActorKind.CLIENT
    clock = f"{sitting.local_start:%H:%M}"
    data = {"at": clock}
    record(sitting.slot_day.booking, verb, by=by, at=at, kind=kind, data=data)
