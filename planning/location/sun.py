"""How long the light lasts, said at arm's length: first the sun's, then twilight's."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta

from planning.shoots.cautions import lost_words
from planning.shoots.planned import PlannedShoot
from studio.timespan import clock_words

SOON = timedelta(hours=6)
"""Sooner than that it is said in minutes; the page's script knows the same figure."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SunLeft:
    """How long the light lasts: words, minutes, and what stands under them.

    The moments are for the page's script, which says the same at every later minute.
    """

    where: str
    words: str
    minutes: str
    clock: str
    earliest_at: datetime
    latest_at: datetime
    dusk_at: datetime | None


def sun_left(shoot: PlannedShoot, at: datetime) -> SunLeft | None:
    """Return how long the sun lasts, in minutes within six hours, else by the clock.

    When it is gone, how long twilight lasts until civil dusk.
    """
    lost = shoot.lost
    if lost is None:
        return None
    zone, dusk_at = shoot.light.where.zone, shoot.light.day.civil_dusk
    where = f"Sun behind {lost.behind}" if lost.behind else "Sunset"
    clock = lost_words(lost, zone)
    told = f"{clock}, skyline estimated" if lost.estimated else clock
    if dusk_at is not None:
        told = f"{told}; civil dusk {clock_words(dusk_at.astimezone(zone))}"
    words, minutes = where, ""
    first, last = _minutes(lost.earliest_at - at), _minutes(lost.latest_at - at)
    if last < 0:
        words, minutes = _twilight(dusk_at, at)
    elif lost.latest_at - at <= SOON:
        words, minutes = f"{where} in about", _span(first, last)
    return SunLeft(
        where=where,
        words=words,
        minutes=minutes,
        clock=told,
        earliest_at=lost.earliest_at,
        latest_at=lost.latest_at,
        dusk_at=dusk_at,
    )


def _twilight(dusk_at: datetime | None, at: datetime) -> tuple[str, str]:
    if dusk_at is None or dusk_at < at:
        return "Sun gone", ""
    return "Sun gone, dusk in about", f"{_minutes(dusk_at - at)} min"


def _span(first: int, last: int) -> str:
    return f"{max(first, 0)}–{last} min" if first < last else f"{last} min"


def _minutes(span: timedelta) -> int:
    return int(span.total_seconds() // 60)
