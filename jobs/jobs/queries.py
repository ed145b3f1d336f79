"""What pages show of jobs."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Final
from zoneinfo import ZoneInfo

from django.core.paginator import Page, Paginator
from django.db.models import F, Min, Prefetch, Q, QuerySet

from jobs.bookings.models import Booking
from jobs.bookings.states import BookingStatus
from jobs.jobs.journal_words import told
from jobs.jobs.models import Job
from jobs.jobs.next_step import next_step
from jobs.jobs.states import OPEN, JobStage
from jobs.slotdays.models import Sitting
from studio.history.models import JournalEntry

ROWS: Final = 25
MOST_ENTRIES: Final = 40
SHOWN_ENTRIES: Final = 6
SITTING: Final = "sitting__slot_day__booking__place"
"""What a page of jobs reads along, so that a sitting of a slot day asks no more."""


@dataclass(frozen=True, slots=True, kw_only=True)
class JobFilter:
    """Which jobs a list shows: a stage, "open", "closed" or "all"; words; an order."""

    show: str = "open"
    words: str = ""
    by_session: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class SessionShown:
    """A session as a line of a list shows it, by the clock of its place."""

    starts_at: datetime
    ends_at: datetime
    zone: ZoneInfo
    place: str
    status: str
    status_words: str

    @property
    def is_settled(self) -> bool:
        """Whether it is confirmed or has happened, so that no mark need stand there."""
        return self.status in {BookingStatus.CONFIRMED, BookingStatus.COMPLETED}


@dataclass(frozen=True, slots=True, kw_only=True)
class JobRow:
    """A job as a line of a list."""

    url: str
    number: str
    title: str
    client: str
    stage: str
    stage_words: str
    enquired_at: datetime
    reply_by_on: date | None
    session: SessionShown | None
    next_step: str

    @property
    def is_open(self) -> bool:
        """Whether something is still to be done."""
        return self.stage in OPEN


@dataclass(frozen=True, slots=True, kw_only=True)
class JobList:
    """A page of a list of jobs."""

    rows: tuple[JobRow, ...]
    page: Page[Job]

    @property
    def count(self) -> int:
        """How many jobs all pages hold."""
        return self.page.paginator.count


@dataclass(frozen=True, slots=True, kw_only=True)
class HistoryLine:
    """One thing that happened to a job."""

    at: datetime
    who: str
    what: str


def list_jobs(chosen: JobFilter, *, page: str, at: datetime) -> JobList:
    """Return a page of the jobs that a filter keeps. Three queries."""
    jobs = _kept(chosen).select_related("client", SITTING)
    if chosen.by_session:
        ahead = Q(bookings__ends_at__gt=at)
        ahead &= ~Q(bookings__status=BookingStatus.CANCELLED)
        jobs = jobs.annotate(next_at=Min("bookings__starts_at", filter=ahead)).order_by(
            F("next_at").asc(nulls_last=True), "-enquired_at", "-pk"
        )
    shown = Paginator(jobs.prefetch_related(_live_sessions()), ROWS).get_page(page)
    return JobList(rows=tuple(_row(job, at) for job in shown), page=shown)


def jobs_of_client(client_id: int, *, at: datetime) -> list[JobRow]:
    """Return every job of a client, the newest first. Two queries."""
    jobs = Job.objects.filter(client_id=client_id)
    jobs = jobs.select_related("client", SITTING)
    return [_row(job, at) for job in jobs.prefetch_related(_live_sessions())]


def job_history(job: Job) -> list[HistoryLine]:
    """Return what the journal holds of a job and its sessions, the newest first."""
    sessions = job.bookings.order_by().values("pk")
    entries = JournalEntry.objects.filter(
        Q(object_type="jobs.job", object_id=job.pk)
        | Q(object_type="jobs.booking", object_id__in=sessions)
    )
    return [
        HistoryLine(
            at=entry.at,
            who=str(entry.by or entry.get_actor_kind_display()),
            what=told(entry),
        )
        for entry in entries.select_related("by").order_by("-sequence")[:MOST_ENTRIES]
    ]


def sitting_of(job: Job) -> Sitting | None:
    """Return a job's sitting of a slot day, None without one that still stands."""
    sitting: Sitting | None = getattr(job, "sitting", None)
    return sitting if sitting and sitting.stands else None


def still_to_come(stage: str) -> str:
    """Return the stages that an open job has ahead of it, in words."""
    if stage not in OPEN:
        return ""
    ahead = [one.label for one in OPEN[OPEN.index(JobStage(stage)) + 1 :]]
    if not ahead:
        return "Paid, still to come"
    return f"{', then '.join(ahead[:2])}, still to come"


def _kept(chosen: JobFilter) -> QuerySet[Job]:
    jobs = Job.objects.matching(chosen.words)
    if chosen.show == "open":
        return jobs.open()
    if chosen.show == "closed":
        return jobs.exclude(stage__in=OPEN)
    if chosen.show in JobStage.values:
        return jobs.filter(stage=chosen.show)
    return jobs


def _live_sessions() -> Prefetch[str]:
    live = Booking.objects.live().chosen().select_related("place").order_by("starts_at")
    return Prefetch("bookings", queryset=live, to_attr="live_sessions")


def _row(job: Job, at: datetime) -> JobRow:
    sessions: Sequence[Booking | Sitting] = getattr(job, "live_sessions", ())
    if not sessions and (sitting := sitting_of(job)):
        sessions = (sitting,)
    return JobRow(
        url=job.get_absolute_url(),
        number=job.number,
        title=job.title,
        client=job.client.name,
        stage=job.stage,
        stage_words=job.get_stage_display(),
        enquired_at=job.enquired_at,
        reply_by_on=job.reply_by_on if job.waits_for_answer else None,
        session=_session(sessions, at),
        next_step=next_step(job, sessions[-1] if sessions else None, at=at),
    )


def _session(
    sessions: Iterable[Booking | Sitting], at: datetime
) -> SessionShown | None:
    """Show the next session, or the last where none is ahead."""
    known = list(sessions)
    ahead = [one for one in known if one.ends_at > at]
    chosen = ahead[0] if ahead else (known[-1] if known else None)
    if chosen is None:
        return None
    booking = chosen.slot_day.booking if isinstance(chosen, Sitting) else chosen
    return SessionShown(
        starts_at=chosen.starts_at,
        ends_at=chosen.ends_at,
        zone=chosen.place.zone,
        place=chosen.place.name,
        status=booking.status,
        status_words=booking.get_status_display(),
    )
