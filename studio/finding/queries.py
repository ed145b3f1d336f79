"""What the search box shows of one kind of things."""

from __future__ import annotations

from typing import Final, TypeVar

from django.db.models import Model, QuerySet

from studio.finding.models import FindableWords
from studio.search import MOST

SPARE: Final = 10
Thing = TypeVar("Thing", bound=Model)


def newest_found(things: QuerySet[Thing], words: str) -> list[Thing]:
    """Return the ten newest of some things that hold the words. Two queries.

    A few more are fetched, since two rows of words may lead to one thing, and a thing
    may not be among those asked for.
    """
    keys = FindableWords.objects.of(things.model).newest(words, MOST + SPARE)
    return list(things.filter(pk__in=keys)[:MOST])
