"""How long the way between two places takes: as somebody said, or as estimated."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import ceil
from typing import Final

from django.db.models import Q

from jobs.places.distances import distance_km
from jobs.places.models import Place
from jobs.ways.models import KnownWay
from studio.profile.models import StudioProfile

DETOUR: Final = 1.3
"""Roads against the straight line: common practice, no source."""

NEAR_KM: Final = 0.15
"""Places so near count as one."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """How long it takes from one place to another."""

    minutes: int
    is_estimate: bool
    straight_km: float

    @property
    def words(self) -> str:
        """How long it takes, in words that say where the figure comes from."""
        if not self.is_estimate:
            return f"{self.minutes} minutes"
        return (
            f"about {self.minutes} minutes (estimated from {self.straight_km:.0f} km "
            "in a straight line)"
        )


def estimate_minutes(straight_km: float, *, speed_kmh: int) -> int:
    """Return the minutes of a way by road, rounded up to whole ones."""
    if straight_km <= NEAR_KM:
        return 0
    return ceil(round(straight_km * DETOUR / speed_kmh * 60, 6))


def ways_between(here: Place, others: Iterable[Place]) -> dict[int, Way]:
    """Return the ways from a place to others, by the other's key.

    One query, and the studio's row; none where no other place is given.
    """
    listed = {one.pk: one for one in others}
    if not listed:
        return {}
    known = _known(here) if here.pk else {}
    speed_kmh = StudioProfile.load().travel_kmh
    return {
        pk: _way(here, there, known.get(pk), speed_kmh) for pk, there in listed.items()
    }


def ways_of(pairs: Iterable[tuple[Place, Place]]) -> dict[tuple[int, int], Way]:
    """Return the ways between pairs of places, by their keys in that order.

    One query, and the studio's row; none where no pair is given.
    """
    listed = {(here.pk, there.pk): (here, there) for here, there in pairs}
    if not listed:
        return {}
    keys = {key for pair in listed for key in pair}
    rows = KnownWay.objects.filter(first__in=keys, second__in=keys)
    known = {frozenset((row.first_id, row.second_id)): row.minutes for row in rows}
    speed_kmh = StudioProfile.load().travel_kmh
    return {
        key: _way(here, there, known.get(frozenset(key)), speed_kmh)
        for key, (here, there) in listed.items()
    }


def _way(here: Place, there: Place, minutes: int | None, speed_kmh: int) -> Way:
    apart_km = 0.0 if here.pk == there.pk else distance_km(here, there)
    if minutes is not None:
        return Way(minutes=minutes, is_estimate=False, straight_km=apart_km)
    estimated = estimate_minutes(apart_km, speed_kmh=speed_kmh)
    return Way(minutes=estimated, is_estimate=True, straight_km=apart_km)


def _known(here: Place) -> dict[int, int]:
    rows = KnownWay.objects.filter(Q(first=here) | Q(second=here))
    return {
        (row.second_id if row.first_id == here.pk else row.first_id): row.minutes
        for row in rows
    }
