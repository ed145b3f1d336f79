"""What the parts of one page share of a job's quotes: read once a request."""

from __future__ import annotations

from invoicing.quotes.queries import VersionRow, versions_of
from jobs.jobs.models import Job
from studio.http import StaffRequest


def versions_on(request: StaffRequest, job: Job) -> list[VersionRow]:
    """Return a job's quotes, the newest version first."""
    kept: dict[int, list[VersionRow]] = request.__dict__.setdefault("quotes", {})
    if job.pk not in kept:
        kept[job.pk] = versions_of(job)
    return kept[job.pk]
