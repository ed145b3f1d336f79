"""What pages show of enquiries: free times, texts to start from, won and lost."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from typing import Final
from zoneinfo import ZoneInfo

from django.db.models import Count, Q

from jobs.bookings.models import Reservation
from jobs.calendars.models import BusyTime
from jobs.jobs.choices import LostReason, Source
from jobs.jobs.models import Job
from jobs.jobs.states import JobStage
from studio.profile.models import StudioProfile
from studio.timespan import TimeSpan
from studio.wording import phone_words

# common practice, no source
SOONEST: Final = timedelta(days=3)
LATEST: Final = timedelta(days=62)
CLOCKS: Final = (time(10), time(14))
LONG: Final = timedelta(hours=2)
OFFERED: Final = 2
YEAR: Final = timedelta(days=365)

UNDECIDED: Final = (JobStage.ENQUIRY, JobStage.QUOTED)
TEXTS: Final = (
    ("guide", "Price guide"),
    ("dates", "Two free dates"),
    ("both", "Both"),
    ("plain", "Only the greeting"),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Tally:
    """How many jobs came from somewhere, and what became of them."""

    label: str
    asked: int
    won: int
    lost: int

    @property
    def undecided(self) -> int:
        """How many are neither won nor lost yet."""
        return self.asked - self.won - self.lost

    @property
    def share(self) -> str:
        """How many of those decided were won, in percent."""
        decided = self.won + self.lost
        return f"{round(100 * self.won / decided)}%" if decided else "–"


def free_times(
    person_id: int, *, near: date | None, at: datetime, zone: ZoneInfo
) -> list[TimeSpan]:
    """Return two times of two hours that nothing of a person's falls into.

    Around the day that is wished for, else as soon as may be; Sundays only if wished
    for. Two queries.
    """
    today = at.astimezone(zone).date()
    days = [today + SOONEST + timedelta(days=one) for one in range(LATEST.days)]
    if near and near >= today:
        days = [near + timedelta(days=one) for one in range(-31, 32)]
        days = sorted(
            (day for day in days if day > today), key=lambda day: abs(day - near)
        )
    taken = _taken(person_id, min(days), max(days), zone) if days else []
    free = (
        _free_on(day, taken, zone) for day in days if day.weekday() < 6 or day == near
    )
    found = [span for span in free if span][:OFFERED]
    return sorted(found)


def reply_text(kind: str, job: Job, *, at: datetime) -> str:
    """Return an answer to start from: greeting, what was chosen, and the name."""
    studio = StudioProfile.load()
    parts = [f"Hello {job.client.addressee},", "thank you for writing to us."]
    if kind in {"dates", "both"}:
        parts.append(_dates_words(job, at, studio.zone))
    if kind in {"guide", "both"}:
        parts.append(
            studio.guide_words
            or "This is what a session costs: (write your price guide under Settings)"
        )
    parts.append("If something is unclear, ask away.")
    signed = [studio.owner_name, studio.trading_name, phone_words(studio.phone)]
    return "\n\n".join([*parts, "\n".join(filter(None, signed))])


def by_source(*, at: datetime) -> list[Tally]:
    """Return what became of a year's enquiries, by where they came from. One query."""
    rows = _tallied("source", at)
    labels = {**dict(Source.choices), "": "Not known"}
    return [
        Tally(label=labels.get(key, key), asked=asked, won=won, lost=lost)
        for key, asked, won, lost in rows
    ]


def by_reason(*, at: datetime) -> list[tuple[str, int]]:
    """Return why a year's enquiries were lost, the commonest first. One query."""
    lost = Job.objects.filter(stage=JobStage.LOST, enquired_at__gt=at - YEAR)
    counted = lost.order_by().values_list("lost_reason").annotate(count=Count("pk"))
    labels = {**dict(LostReason.choices), "": "Not noted"}
    return [
        (labels.get(key, key), count)
        for key, count in sorted(counted, key=lambda row: (-row[1], row[0]))
    ]


def _tallied(field: str, at: datetime) -> list[tuple[str, int, int, int]]:
    lost = Q(stage=JobStage.LOST)
    won = ~Q(stage__in=[*UNDECIDED, JobStage.LOST])
    rows = Job.objects.filter(enquired_at__gt=at - YEAR).order_by()
    counted = rows.values_list(field).annotate(
        asked=Count("pk"),
        won=Count("pk", filter=won),
        lost=Count("pk", filter=lost),
    )
    return sorted(counted, key=lambda row: (-row[1], row[0]))


def _taken(
    person_id: int, first: date, last: date, zone: ZoneInfo
) -> list[tuple[datetime, datetime]]:
    start = datetime.combine(first, time(), tzinfo=zone)
    end = datetime.combine(last + timedelta(days=1), time(), tzinfo=zone)
    span = TimeSpan(start, end)
    held = Reservation.objects.during(span).filter(
        resource=f"person:{person_id}", holds=True
    )
    busy = BusyTime.objects.during(span).filter(person_id=person_id)
    return [
        *held.values_list("starts_at", "ends_at"),
        *busy.values_list("starts_at", "ends_at"),
    ]


def _free_on(
    day: date, taken: list[tuple[datetime, datetime]], zone: ZoneInfo
) -> TimeSpan | None:
    for clock in CLOCKS:
        start = datetime.combine(day, clock, tzinfo=zone)
        span = TimeSpan(start, start + LONG)
        if not any(begin < span.end and end > span.start for begin, end in taken):
            return span
    return None


def _dates_words(job: Job, at: datetime, zone: ZoneInfo) -> str:
    free = free_times(job.owner_id, near=job.wished_on, at=at, zone=zone)
    if not free:
        return "The next weeks are full; which month would suit you?"
    lines = []
    for span in free:
        start = span.start.astimezone(zone)
        lines.append(f"- {start:%A} {start.day} {start:%B}, from {start:%H:%M}")
    opening = "These times are free as I write; I hold none of them yet:"
    return "\n".join([opening, *lines])
