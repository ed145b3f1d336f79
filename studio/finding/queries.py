"""What the search box shows of one kind of things."""

from __future__ import annotations

from typing import Final, TypeVar

from django.db.models import QuerySet

from studio.finding.models import Findable, FindableWords
from studio.search import MOST

SPARE: Final = 10
Thing = TypeVar("Thing", bound=Findable)


def newest_found(things: QuerySet[Thing], words: str) -> list[Thing]:
    """Return the ten newest of some things that hold the words. Two queries.

    A few more are fetched, since two rows of words may lead to one thing, and a thing
    may not be among those asked for.
    """
    keys = FindableWords.objects.newest(things.model, words, MOST + SPARE)
    return list(things.filter(pk__in=keys)[:MOST])
