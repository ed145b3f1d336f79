"""What pages show of a slot day."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from django.db.models import Count, OuterRef, QuerySet, Subquery
from django.db.models.functions import Coalesce

from jobs.bookings.models import Booking
from jobs.bookings.words import clock_words
from jobs.jobs.models import Job
from jobs.slotdays.models import Sitting, SlotDay
from studio.sheets import Cell
from studio.wording import phone_words


@dataclass(frozen=True, slots=True, kw_only=True)
class SittingRow:
    """One time of the day, as its table shows it."""

    pk: int
    clocks: str
    state: str
    note: str = ""
    job: Job | None = None

    @property
    def is_free(self) -> bool:
        """Whether nobody has it, and it is offered."""
        return self.state == "Free"

    @property
    def may_be_noted(self) -> bool:
        """Whether it can still be noted that whoever has it came."""
        return self.job is not None and self.job.stage == "BOOKED"


def day_of(booking: Booking) -> SlotDay | None:
    """Return the slot day that a session is, if it is one."""
    days = SlotDay.objects.select_related("booking__place", "booking__job")
    return days.filter(booking=booking).first()


def rows_of(day: SlotDay) -> list[SittingRow]:
    """Return every time of a day, in order. One query."""
    return [_row(sitting) for sitting in _sittings(day)]


def free_times(day: SlotDay) -> list[Sitting]:
    """Return the times that can be taken, in order. One query."""
    return _with_day(day, day.sittings.free())


def how_many(rows: Iterable[SittingRow]) -> str:
    """Return how many of the times are taken, in words."""
    offered = [row for row in rows if row.state != "Kept back"]
    return (
        f"{sum(row.job is not None for row in offered)} of {len(offered)} times taken"
    )


def with_taken(bookings: QuerySet[Booking]) -> QuerySet[Booking]:
    """Let bookings know, in their own query, how many of their times are taken."""
    sittings = Sitting.objects.filter(
        slot_day__booking=OuterRef("pk"), is_blocked=False
    )
    return bookings.annotate(
        times_count=_count(sittings), times_taken=_count(sittings.taken())
    )


def count_words(booking: Booking) -> str:
    """Return how many times are taken, as the booking's query counted them."""
    counted = booking.__dict__
    if not counted["times_count"]:
        return ""
    return f"{counted['times_taken']} of {counted['times_count']} taken"


def sheet_of(day: SlotDay) -> tuple[list[str], list[list[Cell]]]:
    """Return the day as a table: head and rows."""
    head = ["From", "To", "State", "Name", "Phone", "E-mail", "Job", "Note"]
    rows: list[list[Cell]] = []
    for sitting in _sittings(day):
        client = sitting.job.client if sitting.job else None
        rows.append(
            [
                clock_words(sitting.local_start),
                clock_words(sitting.local_end),
                _state(sitting),
                client.name if client else "",
                phone_words(client.phone) if client else "",
                client.email if client else "",
                sitting.job.number if sitting.job else "",
                sitting.note,
            ]
        )
    return head, rows


def clocks_of(sitting: Sitting) -> str:
    """Return from when to when a sitting is, by the clock of its place."""
    return f"{clock_words(sitting.local_start)}–{clock_words(sitting.local_end)}"


def _sittings(day: SlotDay) -> Sequence[Sitting]:
    return _with_day(day, day.sittings.select_related("job__client"))


def _count(sittings: QuerySet[Sitting]) -> Coalesce:
    counted = (
        sittings.order_by().values("slot_day__booking").annotate(count=Count("pk"))
    )
    return Coalesce(Subquery(counted.values("count")), 0)


def _with_day(day: SlotDay, sittings: Iterable[Sitting]) -> list[Sitting]:
    rows = list(sittings)
    for row in rows:
        row.slot_day = day
    return rows


def _row(sitting: Sitting) -> SittingRow:
    return SittingRow(
        pk=sitting.pk,
        clocks=clocks_of(sitting),
        state=_state(sitting),
        note=sitting.note,
        job=sitting.job,
    )


def _state(sitting: Sitting) -> str:
    if sitting.job:
        return "Taken"
    return "Kept back" if sitting.is_blocked else "Free"
