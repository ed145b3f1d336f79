"""Taking the next number of a series, without gaps."""

from dataclasses import dataclass
from datetime import date

from django.db import transaction
from django.db.models import F

from studio.profile.models import StudioProfile
from studio.series.models import SeriesCounter, SeriesKind


@dataclass(frozen=True, slots=True)
class Number:
    """A number that was taken: how it is written, and its place in the series."""

    written: str
    year: int
    place: int


def take_number(kind: SeriesKind, *, on: date) -> Number:
    """Take the next number of a series, inside the caller's transaction.

    The counter's row stays locked until the transaction ends, so that a number is
    used or never was: a sequence would leave a gap behind a failure.
    """
    if not transaction.get_connection().in_atomic_block:
        raise RuntimeError("a number is taken inside a transaction")
    rows = SeriesCounter.objects.filter(kind=kind, year=on.year)
    if not rows.update(last=F("last") + 1):
        SeriesCounter.objects.get_or_create(kind=kind, year=on.year)
        rows.update(last=F("last") + 1)
    place = rows.values_list("last", flat=True).get()
    pattern = StudioProfile.load().pattern_of(kind)
    return Number(pattern.format(year=on.year, place=place), on.year, place)
