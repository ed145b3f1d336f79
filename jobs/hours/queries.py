"""What pages show of the time worked on a job."""

from __future__ import annotations

from dataclasses import dataclass

from jobs.hours.models import WorkedTime
from jobs.jobs.models import Job
from jobs.jobs.states import JobStage
from studio.people.models import Person


@dataclass(frozen=True, slots=True, kw_only=True)
class StageTime:
    """What was worked in one stage."""

    stage: str
    minutes: int

    @property
    def words(self) -> str:
        """The time in words."""
        return time_words(self.minutes)


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkOnJob:
    """The time worked on a job, as its page and other apps see it."""

    job: Job
    minutes: int
    stages: tuple[StageTime, ...]
    lines: tuple[WorkedTime, ...]
    running: WorkedTime | None

    @property
    def words(self) -> str:
        """All of it in words."""
        return time_words(self.minutes)


def work_on(job: Job, *, person: Person) -> WorkOnJob:
    """Return the time worked on a job, stage by stage. One query."""
    rows = list(job.worked_times.select_related("person"))
    done = [row for row in rows if row.minutes is not None]
    by_stage: dict[str, int] = {}
    for row in done:
        by_stage[row.stage] = by_stage.get(row.stage, 0) + (row.minutes or 0)
    clocks = [row for row in rows if row.minutes is None]
    return WorkOnJob(
        job=job,
        minutes=sum(by_stage.values()),
        stages=tuple(
            StageTime(stage=stage.label, minutes=by_stage[stage])
            for stage in JobStage
            if stage in by_stage
        ),
        lines=tuple(done),
        running=next((row for row in clocks if row.person_id == person.pk), None),
    )


def time_words(minutes: int) -> str:
    """Return minutes as people say them: 45 min, 2 h, 3 h 20 min."""
    hours, rest = divmod(minutes, 60)
    if not hours:
        return f"{rest} min"
    return f"{hours} h {rest} min" if rest else f"{hours} h"
