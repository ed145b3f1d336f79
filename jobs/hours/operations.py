"""Taking down how long somebody worked on a job: by a clock, or typed."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import Final

from django.db import transaction

from jobs.hours.models import WorkedTime
from jobs.jobs.models import Job
from studio.errors import DomainError
from studio.history.operations import record
from studio.people.models import Person

LONGEST: Final = timedelta(hours=16)
"""A clock that ran longer was forgotten: no more than this is taken down."""


class NoClockError(DomainError):
    """There is no running clock to be stopped."""


@transaction.atomic
def start_clock(*, job: Job, by: Person, at: datetime) -> WorkedTime:
    """Let a person's clock run for a job; one that runs for another job is stopped."""
    for running in _running(by):
        _stop(running, by=by, at=at)
    worked = WorkedTime.objects.create(job=job, stage=job.stage, person=by, began_at=at)
    record(job, "clock started", by=by, at=at)
    return worked


@transaction.atomic
def stop_clock(*, by: Person, at: datetime) -> WorkedTime:
    """Stop a person's clock, and keep whole minutes. Raises NoClockError."""
    running = _running(by)
    if not running:
        raise NoClockError("No clock of yours is running.")
    return _stop(running[0], by=by, at=at)


@transaction.atomic
def note_time(
    *, job: Job, stage: str, minutes: int, words: str, by: Person, at: datetime
) -> WorkedTime:
    """Take down minutes that were worked without a clock."""
    worked = WorkedTime.objects.create(
        job=job, stage=stage, person=by, began_at=at, minutes=minutes, words=words
    )
    record(job, "time noted", by=by, at=at, data={"minutes": minutes})
    return worked


@transaction.atomic
def drop_time(*, worked_id: int, by: Person, at: datetime) -> None:
    """Take a line of worked time back."""
    worked = WorkedTime.objects.select_for_update().get(pk=worked_id)
    data = {"minutes": worked.minutes or 0}
    record(worked.job, "time dropped", by=by, at=at, data=data)
    worked.delete()


def _running(by: Person) -> list[WorkedTime]:
    running = WorkedTime.objects.filter(person=by, minutes__isnull=True)
    return list(running.select_for_update(of=("self",)).select_related("job"))


def _stop(worked: WorkedTime, *, by: Person, at: datetime) -> WorkedTime:
    seconds = min(at - worked.began_at, LONGEST).total_seconds()
    worked.minutes = max(1, round(seconds / 60))
    worked.save(update_fields=["minutes"])
    data = {"minutes": worked.minutes}
    record(worked.job, "clock stopped", by=by, at=at, data=data)
    return worked
