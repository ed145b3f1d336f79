"""Spans of time: half-open, aware, kept in UTC."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta


@dataclass(frozen=True, slots=True, order=True)
class TimeSpan:
    """The instants from `start` up to, but not including, `end`."""

    start: datetime
    end: datetime

    def __post_init__(self) -> None:
        # Datetimes of one zone compare by wall clock and go wrong across a clock
        # change, so both ends are moved to UTC before anything is compared.
        object.__setattr__(self, "start", _utc(self.start))
        object.__setattr__(self, "end", _utc(self.end))
        if self.end <= self.start:
            raise ValueError(
                f"a time span must end after it starts: {self.start} to {self.end}"
            )

    @property
    def duration(self) -> timedelta:
        """Elapsed time, whatever the clocks did in between."""
        return self.end - self.start

    def overlaps(self, other: TimeSpan) -> bool:
        """Tell whether the two spans share an instant; ends that touch do not."""
        return self.start < other.end and other.start < self.end

    def contains(self, moment: datetime | TimeSpan) -> bool:
        """Tell whether an instant, or the whole of another span, lies in this one."""
        if isinstance(moment, TimeSpan):
            return self.start <= moment.start and moment.end <= self.end
        return self.start <= _utc(moment) < self.end

    def intersection(self, other: TimeSpan) -> TimeSpan | None:
        """Return the time that both spans share, or None."""
        if not self.overlaps(other):
            return None
        return TimeSpan(max(self.start, other.start), min(self.end, other.end))

    def shifted(self, by: timedelta) -> TimeSpan:
        """Return a span as long that starts so much later (earlier, if negative)."""
        return TimeSpan(self.start + by, self.end + by)

    def __str__(self) -> str:
        return f"{self.start.isoformat()}/{self.end.isoformat()}"


def comes_twice(local: datetime) -> bool:
    """Tell whether the clocks of a moment's own zone show its time a second time."""
    before, after = local.replace(fold=0), local.replace(fold=1)
    first, second = before.utcoffset(), after.utcoffset()
    return first is not None and second is not None and first > second


def clock_words(local: datetime) -> str:
    """Return a moment by its own clock: 15:00, or 01:00 GMT where that comes twice."""
    return f"{local:%H:%M %Z}" if comes_twice(local) else f"{local:%H:%M}"


def _utc(moment: datetime) -> datetime:
    if moment.utcoffset() is None:
        raise ValueError(f"a time span needs aware datetimes, not {moment!r}")
    return moment.astimezone(UTC)
