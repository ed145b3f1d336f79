"""The usage licences that a client bought, and when each runs out."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from invoicing.prices.licences import length_words, runs_out_on
from invoicing.quotes.models import Acceptance, QuoteLine
from jobs.jobs.models import Job
from studio.profile.models import StudioProfile


@dataclass(frozen=True, slots=True, kw_only=True)
class BoughtLicence:
    """One licence of a job: what it says, and its last day once that is known."""

    title: str
    detail: str
    length: str
    last_day: date | None


def licences_of(job: Job, acceptance: Acceptance | None) -> list[BoughtLicence]:
    """Return the licences of a yes that run out, by the day of the delivery.

    One query at most, where there was a yes.
    """
    if acceptance is None:
        return []
    chosen = acceptance.chosen
    extras = frozenset(chosen.get("extras", ()))
    return [
        BoughtLicence(
            title=line.description,
            detail=line.detail,
            length=length_words(months),
            last_day=_last_day(job, months),
        )
        for line in acceptance.quote.lines.all()
        if (months := line.licence_months)
        and (line.pk in extras or _is_counted(line, acceptance.package_name))
    ]


def _is_counted(line: QuoteLine, package: str) -> bool:
    return not line.optional and line.package in {"", package}


def _last_day(job: Job, months: int) -> date | None:
    if job.delivered_at is None:
        return None
    zone = StudioProfile.load().zone
    return runs_out_on(job.delivered_at.astimezone(zone).date(), months)
