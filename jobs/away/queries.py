"""What pages show of blocked time."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from jobs.away.models import BlockedTime
from studio.timespan import TimeSpan
from studio.wording import day_date


def blocked_from(at: datetime) -> list[BlockedTime]:
    """Return the blocked times that are not over, the nearest first. One query."""
    ahead = BlockedTime.objects.filter(ends_at__gt=at).select_related("person")
    return list(ahead[:200])


def blocked_during(span: TimeSpan) -> list[BlockedTime]:
    """Return the blocked times of some days. One query."""
    return list(BlockedTime.objects.during(span).select_related("person"))


def away_words(rows: Iterable[BlockedTime], day: TimeSpan, zone: ZoneInfo) -> list[str]:
    """Return who is away on a day, why, and when where it is not all day."""
    return [_words(row, day, zone) for row in rows if row.span.overlaps(day)]


def until_words(row: BlockedTime, zone: ZoneInfo) -> str:
    """Return when a blocked time is, by the studio's clock."""
    start = row.starts_at.astimezone(zone)
    end = row.ends_at.astimezone(zone)
    whole = start.hour == start.minute == end.hour == end.minute == 0
    last = end - timedelta(minutes=1) if whole else end
    first_words = day_date(start)
    last_words = day_date(last)
    if not whole:
        first_words += f", {start:%H:%M}"
        last_words += f", {end:%H:%M}"
    if start.date() == last.date():
        return first_words if whole else f"{first_words}–{end:%H:%M}"
    return f"{first_words} to {last_words}"


def _words(row: BlockedTime, day: TimeSpan, zone: ZoneInfo) -> str:
    shared = row.span.intersection(day) or day
    who = f"{row.who} is {'away' if row.person else 'closed'}"
    if shared == day:
        return f"{who}: {row.why}"
    start, end = shared.start.astimezone(zone), shared.end.astimezone(zone)
    until = "24:00" if shared.end == day.end else f"{end:%H:%M}"
    return f"{who} {start:%H:%M}–{until}: {row.why}"
