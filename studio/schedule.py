"""What is done again and again, how often, and in which lane.

One table for both ways of working: the child process of `start` runs the tasks
itself; with Redis the same table is what the beat publishes. Tasks are named, not
imported: the foundation knows no app.
"""

from collections.abc import Collection
from dataclasses import dataclass
from datetime import timedelta
from enum import StrEnum
from typing import Any, Final


class Lane(StrEnum):
    """Two lanes, so that papers being made hold no letter up."""

    LIGHT = "mail and schedule"
    HEAVY = "heavy work"


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """One task of the schedule."""

    task: str
    every: timedelta
    lane: Lane = Lane.LIGHT
    limit: timedelta = timedelta(minutes=2)


SCHEDULE: Final = (
    Entry(
        task="studio.send_waiting_mail",
        every=timedelta(seconds=5),
        limit=timedelta(minutes=5),
    ),
    Entry(task="jobs.let_holds_lapse", every=timedelta(minutes=1)),
    Entry(task="jobs.send_due_letters", every=timedelta(minutes=10)),
    Entry(task="jobs.refresh_feeds", every=timedelta(minutes=1)),
    Entry(
        task="jobs.read_busy_calendars",
        every=timedelta(minutes=10),
        lane=Lane.HEAVY,
        limit=timedelta(minutes=10),
    ),
    Entry(task="invoicing.lapse_quotes", every=timedelta(minutes=5)),
    Entry(task="invoicing.remind_of_quotes", every=timedelta(minutes=10)),
    Entry(task="invoicing.close_paid_jobs", every=timedelta(seconds=15)),
    Entry(
        task="invoicing.finish_documents",
        every=timedelta(seconds=5),
        lane=Lane.HEAVY,
    ),
    Entry(
        task="invoicing.finish_einvoices",
        every=timedelta(minutes=1),
        lane=Lane.HEAVY,
    ),
    Entry(
        task="studio.mend_words",
        every=timedelta(days=1),
        lane=Lane.HEAVY,
        limit=timedelta(minutes=15),
    ),
    Entry(
        task="studio.count_rows",
        every=timedelta(days=1),
        lane=Lane.HEAVY,
        limit=timedelta(minutes=15),
    ),
    Entry(
        task="studio.nightly_backup",
        every=timedelta(hours=1),
        lane=Lane.HEAVY,
        limit=timedelta(minutes=15),
    ),
)


def beat_schedule(entries: Collection[Entry] = SCHEDULE) -> dict[str, Any]:
    """Return the table as Celery's beat reads it.

    What no worker took up before it is due once more is thrown away.
    """
    return {
        entry.task: {
            "task": entry.task,
            "schedule": entry.every,
            "options": {"expires": max(entry.every.total_seconds(), 60)},
        }
        for entry in entries
    }
