"""Everything that happens to a job."""

from dataclasses import dataclass
from datetime import date, datetime, timedelta

from django.db import transaction

from jobs.clients.models import Client
from jobs.clients.operations import ClientDetails, add_client, fill_in_client
from jobs.jobs.choices import Channel
from jobs.jobs.models import Job
from jobs.jobs.states import OPEN, JobStage, move
from studio.history.models import ActorKind
from studio.history.operations import record
from studio.people.models import Person
from studio.profile.models import StudioProfile
from studio.series.models import SeriesKind
from studio.series.operations import take_number


@dataclass(frozen=True, slots=True, kw_only=True)
class Enquiry:
    """What somebody asked for."""

    title: str
    wish: str = ""
    wished_on: date | None = None
    came_in: Channel = Channel.PHONE
    source: str = ""
    came_by: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Caller:
    """Who asked: a client that the studio knows, or the details of a new one."""

    details: ClientDetails
    known: Client | None = None


@transaction.atomic
def take_enquiry(*, caller: Caller, enquiry: Enquiry, by: Person, at: datetime) -> Job:
    """Turn a call or letter into a job, and its writer into a client if new.

    A known client gains the ways to be reached that were missing.
    """
    client = caller.known or add_client(details=caller.details, by=by, at=at)
    if caller.known:
        fill_in_client(client_id=client.pk, details=caller.details, by=by, at=at)
    return open_job(client=client, enquiry=enquiry, by=by, at=at)


@transaction.atomic
def open_job(
    *,
    client: Client,
    enquiry: Enquiry,
    by: Person | None,
    at: datetime,
    owner: Person | None = None,
) -> Job:
    """Turn an enquiry into a job with a number and a promised day of reply.

    Nobody of the studio (`by` is None) took it where the client wrote it down; then
    `owner` says whose it is.
    """
    answers = owner or by
    if answers is None:
        raise ValueError("an enquiry needs somebody of the studio to answer it")
    profile = StudioProfile.load()
    today = at.astimezone(profile.zone).date()
    job = Job.objects.create(
        number=take_number(SeriesKind.JOB, on=today).written,
        client=client,
        title=enquiry.title,
        wish=enquiry.wish,
        wished_on=enquiry.wished_on,
        came_in=enquiry.came_in,
        source=enquiry.source,
        came_by=enquiry.came_by,
        owner=answers,
        enquired_at=at,
        reply_by_on=working_days_after(today, profile.reply_days),
    )
    kind = None if by else ActorKind.CLIENT
    record(job, "opened", by=by, at=at, kind=kind)
    return job


@transaction.atomic
def change_job(*, job_id: int, enquiry: Enquiry, by: Person, at: datetime) -> Job:
    """Change what a job is called and what was asked for."""
    job = _locked(job_id)
    job.title, job.wish = enquiry.title, enquiry.wish
    job.wished_on, job.came_by = enquiry.wished_on, enquiry.came_by
    job.came_in, job.source = enquiry.came_in, enquiry.source
    job.save(
        update_fields=["title", "wish", "wished_on", "came_by", "came_in", "source"]
    )
    record(job, "changed", by=by, at=at)
    return job


@transaction.atomic
def promise_answer(
    *, job_id: int, owner: Person, reply_by_on: date, by: Person, at: datetime
) -> Job:
    """Say whose an enquiry is, and by when it is to be answered."""
    job = _locked(job_id)
    if (job.owner_id, job.reply_by_on) != (owner.pk, reply_by_on):
        job.owner, job.reply_by_on = owner, reply_by_on
        job.save(update_fields=["owner", "reply_by_on"])
        record(job, "promised", by=by, at=at, data={"owner": owner.pk})
    return job


@transaction.atomic
def note_answer(*, job_id: int, nudge_on: date | None, by: Person, at: datetime) -> Job:
    """Note that an enquiry was answered, and when to ask again if nothing comes."""
    job = _locked(job_id)
    job.answered_at, job.nudge_on = job.answered_at or at, nudge_on
    job.save(update_fields=["answered_at", "nudge_on"])
    record(job, "answered", by=by, at=at)
    return job


@transaction.atomic
def mark_quoted(*, job_id: int, by: Person | None, at: datetime) -> Job:
    """Note that a quote went out; a job that is further on stays there."""
    job = _locked(job_id)
    if job.stage == JobStage.ENQUIRY:
        _go(job, JobStage.QUOTED, by=by, at=at)
    return job


@transaction.atomic
def mark_booked(
    *, job_id: int, by: Person | None, at: datetime, kind: ActorKind | None = None
) -> Job:
    """Note that the client said yes. Raises JobMoveError."""
    job = _locked(job_id)
    if job.stage != JobStage.BOOKED:
        _go(job, JobStage.BOOKED, by=by, at=at, kind=kind)
    return job


@transaction.atomic
def mark_shot(*, job_id: int, by: Person | None, at: datetime) -> Job:
    """Note that the session is over; the pictures have their day. JobMoveError."""
    job = _locked(job_id)
    days = timedelta(days=StudioProfile.load().pictures_days)
    if job.pictures_by_on is None:
        job.pictures_by_on = at.astimezone(StudioProfile.load().zone).date() + days
    job.save(update_fields=["pictures_by_on"])
    return _go(job, JobStage.SHOT, by=by, at=at)


@transaction.atomic
def mark_delivered(*, job_id: int, by: Person, at: datetime) -> Job:
    """Note that the client has the pictures. Raises JobMoveError."""
    job = _locked(job_id)
    job.delivered_at = at
    job.save(update_fields=["delivered_at"])
    return _go(job, JobStage.DELIVERED, by=by, at=at)


@transaction.atomic
def close_as_paid(*, job_id: int, by: Person | None, at: datetime) -> Job:
    """Close a job whose money is in. Raises JobMoveError."""
    return _go(_locked(job_id), JobStage.PAID, by=by, at=at)


@transaction.atomic
def close_as_lost(
    *, job_id: int, because: str, reason: str = "", by: Person, at: datetime
) -> Job:
    """Close a job that the client did not take, with the reason. JobMoveError."""
    job = _note_reason(job_id, because)
    job.lost_reason = reason
    job.save(update_fields=["lost_reason"])
    return _go(job, JobStage.LOST, by=by, at=at)


@transaction.atomic
def close_as_cancelled(
    *,
    job_id: int,
    because: str,
    by: Person | None,
    at: datetime,
    kind: ActorKind | None = None,
) -> Job:
    """Close a booked job that was called off, with the reason. JobMoveError."""
    job = _note_reason(job_id, because)
    return _go(job, JobStage.CANCELLED, by=by, at=at, kind=kind)


@transaction.atomic
def reopen_job(*, job_id: int, by: Person, at: datetime) -> Job:
    """Take a job up again that was closed as not taken. Raises JobMoveError."""
    job = _locked(job_id)
    job.closed_because = job.lost_reason = ""
    job.save(update_fields=["closed_because", "lost_reason"])
    return _go(job, JobStage.ENQUIRY, by=by, at=at)


@transaction.atomic
def note_showing(*, job_id: int, allowed: bool, by: Person | None, at: datetime) -> Job:
    """Note whether the client lets the studio show the pictures."""
    job = _locked(job_id)
    job.may_show_pictures = allowed
    job.save(update_fields=["may_show_pictures"])
    kind = None if by else ActorKind.CLIENT
    record(job, "showing", by=by, at=at, kind=kind, data={"allowed": allowed})
    return job


def working_days_after(day: date, days: int) -> date:
    """Return the day that is so many working days later; Saturday and Sunday rest."""
    while days > 0:
        day += timedelta(days=1)
        days -= day.weekday() < 5
    return day


def _locked(job_id: int) -> Job:
    return Job.objects.select_for_update().get(pk=job_id)


def _note_reason(job_id: int, because: str) -> Job:
    job = _locked(job_id)
    job.closed_because = because
    job.save(update_fields=["closed_because"])
    return job


def _go(
    job: Job,
    stage: JobStage,
    *,
    by: Person | None,
    at: datetime,
    kind: ActorKind | None = None,
) -> Job:
    job.stage = move(job.stage, stage)
    job.closed_at = None if stage in OPEN else at
    job.save(update_fields=["stage", "closed_at"])
    record(job, stage.lower(), by=by, at=at, kind=kind)
    return job
